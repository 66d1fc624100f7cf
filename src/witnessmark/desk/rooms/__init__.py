"""The rooms of the desk, one module each; `classes` holds those that are shown first, `others` names the rest."""
