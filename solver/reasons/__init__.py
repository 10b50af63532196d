"""Why a member is zero."""
