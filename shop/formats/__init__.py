"""How days are written on papers, in mails and on the status page: one file per language."""
