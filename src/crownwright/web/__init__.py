"""The pages: a thin mouth of the desk's verbs, served to this machine and to phones that were let in."""
