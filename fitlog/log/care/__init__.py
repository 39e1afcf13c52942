"""Looking after a log: its health, backups, restoring them, older layouts, who may do what."""
