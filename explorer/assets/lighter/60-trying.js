/* Sections tried on groups: what is chosen, what was chosen before, and how an address names it. */
(function () {
  "use strict";

  const stillbar = window.stillbar;
  const escaped = (name) =>
    name.replace(/[%,:]/g, (letter) => "%" + letter.charCodeAt(0).toString(16).toUpperCase());
  /* One trial is kept while its tab lives, so that it is there again after a look at another page. */
  const KEPT = "tried";
  const plain = (name) => name.replace(/%(25|2C|3A)/gi, (_, code) => String.fromCharCode(parseInt(code, 16)));

  /* Sections by group; a group that is not there stays as it is. */
  class Trying {
    constructor(groups) {
      this.groups = groups;
      this.sections = {};
      this.past = [];
      this.future = [];
    }

    /* Go to other sections; what they were can be had back. Returns whether anything changed. */
    go(sections) {
      if (JSON.stringify(this.sorted(sections)) === JSON.stringify(this.sorted(this.sections))) return false;
      this.past.push(this.sections);
      this.future = [];
      this.sections = this.sorted(sections);
      return true;
    }

    set(group, section) {
      const sections = Object.assign({}, this.sections);
      if (section) sections[group] = section;
      else delete sections[group];
      return this.go(sections);
    }

    undo() {
      if (!this.past.length) return false;
      this.future.push(this.sections);
      this.sections = this.past.pop();
      return true;
    }

    redo() {
      if (!this.future.length) return false;
      this.past.push(this.sections);
      this.sections = this.future.pop();
      return true;
    }

    /* In the order of the groups, and only what differs from now. */
    sorted(sections) {
      const kept = {};
      for (const group of this.groups)
        if (group.sections.includes(sections[group.name])) kept[group.name] = sections[group.name];
      return kept;
    }

    write() {
      return Object.entries(this.sections)
        .map(([group, section]) => escaped(group) + ":" + escaped(section))
        .join(",");
    }

    /* Read what an address asks; returns what it asks and the study does not have, in words. */
    read(text) {
      const sections = {},
        leftOut = [];
      for (const part of (text || "").split(",").filter(Boolean)) {
        const [name, section] = part.split(":").map(plain),
          group = this.groups.find((one) => one.name === name);
        if (!group) leftOut.push("no group " + name + " names a family");
        else if (section === undefined) leftOut.push("no section is named for " + name);
        else if (group.sections.includes(section)) sections[name] = section;
        else if (section !== group.now) leftOut.push("no section " + section + " in the family of " + name);
      }
      this.sections = this.sorted(sections);
      return leftOut;
    }
  }

  stillbar.keepTrial = function (key, text) {
    try {
      window.sessionStorage.setItem(KEPT, JSON.stringify({ key: key, text: text }));
    } catch (error) {
      /* a browser that keeps nothing: then the address alone names what is tried */
    }
  };

  stillbar.keptTrial = function (key) {
    try {
      const kept = JSON.parse(window.sessionStorage.getItem(KEPT));
      return kept && kept.key === key ? kept.text : "";
    } catch (error) {
      return "";
    }
  };

  stillbar.Trying = Trying;
})();
