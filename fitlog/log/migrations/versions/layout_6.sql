-- Layout 6 in a file: the table of what is written down.
CREATE TABLE note (
    -- What is written down about a set-up, at any time. Append-only.
    -- its entry in the log
    entry INTEGER NOT NULL CHECK (entry > 0),
    -- title: what it is called, kept: where its sample is, of which the newest stands; outcome: what became of the work; note: anything else
    about TEXT NOT NULL CHECK (about IN ('title', 'note', 'kept', 'outcome')),
    -- what is written; empty: it has no title, or no sample, any more
    text TEXT NOT NULL CHECK (length(text) <= 2000),
    PRIMARY KEY (entry),
    FOREIGN KEY(entry) REFERENCES entry (id) ON DELETE RESTRICT
) STRICT

CREATE TRIGGER note_no_overwrite BEFORE INSERT ON note WHEN EXISTS (SELECT 1 FROM note WHERE entry = NEW.entry) BEGIN SELECT RAISE(ABORT, 'the log is append-only'); END

CREATE TRIGGER note_no_update BEFORE UPDATE ON note WHEN 1 BEGIN SELECT RAISE(ABORT, 'the log is append-only'); END

CREATE TRIGGER note_no_delete BEFORE DELETE ON note WHEN 1 BEGIN SELECT RAISE(ABORT, 'the log is append-only'); END

CREATE TRIGGER note_no_kind BEFORE INSERT ON note WHEN (SELECT kind FROM entry WHERE id = NEW.entry) IS NOT 'note' BEGIN SELECT RAISE(ABORT, 'its entry is no note'); END
