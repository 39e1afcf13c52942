-- Layout 6 on a server: the table of what is written down, with the rights that others have of found.
SELECT set_config('search_path', quote_ident(current_schema()) || ', pg_temp', true)

ALTER TABLE entry DROP CONSTRAINT entry_kind_check

ALTER TABLE entry ADD CONSTRAINT entry_kind_check CHECK (kind IN ('start', 'cut', 'choose', 'finish', 'abandon', 'retract', 'found', 'finish-as-is', 'redo', 'note'))

CREATE TABLE note (
	entry BIGINT NOT NULL CHECK (entry > 0), 
	about TEXT NOT NULL CHECK (about IN ('title', 'note', 'kept', 'outcome')), 
	text TEXT NOT NULL CHECK (length(text) <= 2000), 
	PRIMARY KEY (entry)
)

COMMENT ON TABLE note IS 'What is written down about a set-up, at any time. Append-only.'

COMMENT ON COLUMN note.entry IS 'its entry in the log'

COMMENT ON COLUMN note.about IS 'title: what it is called, kept: where its sample is, of which the newest stands; outcome: what became of the work; note: anything else'

COMMENT ON COLUMN note.text IS 'what is written; empty: it has no title, or no sample, any more'

ALTER TABLE note ADD FOREIGN KEY (entry) REFERENCES entry (id) ON DELETE RESTRICT

CREATE TRIGGER a_turn BEFORE INSERT OR UPDATE OR DELETE ON note FOR EACH STATEMENT EXECUTE FUNCTION fitlog_turn()

CREATE FUNCTION note_no_overwrite() RETURNS trigger LANGUAGE plpgsql SET search_path FROM CURRENT AS $$
BEGIN
    IF EXISTS (SELECT 1 FROM note WHERE entry = NEW.entry) THEN
        RAISE EXCEPTION 'the log is append-only' USING ERRCODE = 'integrity_constraint_violation';
    END IF;
    RETURN NEW;
END $$

CREATE TRIGGER note_no_overwrite BEFORE INSERT ON note FOR EACH ROW EXECUTE FUNCTION note_no_overwrite()

CREATE TRIGGER note_no_empty BEFORE TRUNCATE ON note FOR EACH STATEMENT EXECUTE FUNCTION fitlog_refuse('the log is append-only')

CREATE TRIGGER note_no_update BEFORE UPDATE ON note FOR EACH STATEMENT EXECUTE FUNCTION fitlog_refuse('the log is append-only')

CREATE TRIGGER note_no_delete BEFORE DELETE ON note FOR EACH STATEMENT EXECUTE FUNCTION fitlog_refuse('the log is append-only')

CREATE FUNCTION note_no_kind() RETURNS trigger LANGUAGE plpgsql SET search_path FROM CURRENT AS $$
BEGIN
    IF (SELECT kind FROM entry WHERE id = NEW.entry) IS DISTINCT FROM 'note' THEN
        RAISE EXCEPTION 'its entry is no note' USING ERRCODE = 'integrity_constraint_violation';
    END IF;
    RETURN NEW;
END $$

CREATE TRIGGER note_no_kind BEFORE INSERT ON note FOR EACH ROW EXECUTE FUNCTION note_no_kind()

CREATE OR REPLACE FUNCTION fitlog_whole() RETURNS trigger LANGUAGE plpgsql SET search_path FROM CURRENT AS $$
BEGIN
    IF NEW.kind = 'start' AND NOT EXISTS (SELECT 1 FROM setup WHERE entry = NEW.id AND id = NEW.setup) OR NEW.kind = 'cut' AND NOT EXISTS (SELECT 1 FROM trial_cut WHERE entry = NEW.id) OR NEW.kind = 'found' AND NOT EXISTS (SELECT 1 FROM found WHERE entry = NEW.id) OR NEW.kind = 'note' AND NOT EXISTS (SELECT 1 FROM note WHERE entry = NEW.id) OR NEW.kind = 'retract' AND NOT EXISTS (SELECT 1 FROM retraction WHERE entry = NEW.id) OR NEW.kind = 'redo' AND NOT EXISTS (SELECT 1 FROM redo WHERE entry = NEW.id) THEN
        RAISE EXCEPTION 'an entry lacks what belongs to it' USING ERRCODE = 'integrity_constraint_violation';
    END IF;
    RETURN NULL;
END $$

CREATE OR REPLACE FUNCTION retraction_no_stranger() RETURNS trigger LANGUAGE plpgsql SET search_path FROM CURRENT AS $$
BEGIN
    IF NOT EXISTS (SELECT 1 FROM entry JOIN entry AS own ON own.id = NEW.entry WHERE entry.id = NEW.retracted AND entry.kind IN ('start', 'cut', 'found', 'note', 'finish', 'finish-as-is', 'abandon') AND entry.setup = own.setup) THEN
        RAISE EXCEPTION 'it refers to another set-up' USING ERRCODE = 'integrity_constraint_violation';
    END IF;
    RETURN NEW;
END $$

DO $$
DECLARE
    right_ record;
BEGIN
    FOR right_ IN SELECT privilege_type AS what,
        CASE grantee WHEN 0 THEN 'PUBLIC' ELSE quote_ident(pg_get_userbyid(grantee)) END AS whom
        FROM pg_class, aclexplode(relacl) WHERE oid = 'found'::regclass AND grantee <> relowner
    LOOP
        EXECUTE 'GRANT ' || right_.what || ' ON note TO ' || right_.whom;
    END LOOP;
END $$
