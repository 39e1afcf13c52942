-- Layout 5 on a server: functions that look for temporary tables last, whoever calls them; numbers
-- that the server gives; an entry is tied to its kind's row; the turn is a lock on a table.
SELECT set_config('search_path', quote_ident(current_schema()) || ', pg_temp', true)

CREATE TABLE fitlog_turn ()

CREATE OR REPLACE FUNCTION fitlog_refuse() RETURNS trigger LANGUAGE plpgsql SET search_path FROM CURRENT AS $$
BEGIN
    RAISE EXCEPTION '%', TG_ARGV[0] USING ERRCODE = 'integrity_constraint_violation';
END $$

CREATE OR REPLACE FUNCTION fitlog_turn() RETURNS trigger LANGUAGE plpgsql SET search_path FROM CURRENT AS $$
BEGIN
    LOCK TABLE fitlog_turn IN EXCLUSIVE MODE;
    RETURN NULL;
END $$

CREATE OR REPLACE FUNCTION fitlog_next(of_table text) RETURNS bigint
    LANGUAGE plpgsql SET search_path FROM CURRENT AS $$
DECLARE
    following bigint;
BEGIN
    EXECUTE format('SELECT coalesce(max(id), 0) + 1 FROM %I', of_table) INTO following;
    RETURN following;
END $$

CREATE OR REPLACE FUNCTION fitlog_number() RETURNS trigger LANGUAGE plpgsql SET search_path FROM CURRENT AS $$
DECLARE
    following bigint := fitlog_next(TG_TABLE_NAME);
BEGIN
    IF NEW.id <> following AND NOT (pg_has_role((SELECT relowner FROM pg_class WHERE oid = TG_RELID), 'USAGE') AND NEW.id <= following + 1000000) THEN
        RAISE EXCEPTION 'a number is the one after the last' USING ERRCODE = 'integrity_constraint_violation';
    END IF;
    RETURN NEW;
END $$

CREATE OR REPLACE FUNCTION fitlog_role() RETURNS trigger LANGUAGE plpgsql SET search_path FROM CURRENT AS $$
BEGIN
    NEW.role := session_user;
    RETURN NEW;
END $$

CREATE OR REPLACE FUNCTION fitlog_whole() RETURNS trigger LANGUAGE plpgsql SET search_path FROM CURRENT AS $$
BEGIN
    IF NEW.kind = 'start' AND NOT EXISTS (SELECT 1 FROM setup WHERE entry = NEW.id AND id = NEW.setup) OR NEW.kind = 'cut' AND NOT EXISTS (SELECT 1 FROM trial_cut WHERE entry = NEW.id) OR NEW.kind = 'found' AND NOT EXISTS (SELECT 1 FROM found WHERE entry = NEW.id) OR NEW.kind = 'retract' AND NOT EXISTS (SELECT 1 FROM retraction WHERE entry = NEW.id) OR NEW.kind = 'redo' AND NOT EXISTS (SELECT 1 FROM redo WHERE entry = NEW.id) THEN
        RAISE EXCEPTION 'an entry lacks what belongs to it' USING ERRCODE = 'integrity_constraint_violation';
    END IF;
    RETURN NULL;
END $$

CREATE OR REPLACE FUNCTION fitlog_together() RETURNS trigger LANGUAGE plpgsql SET search_path FROM CURRENT AS $$
BEGIN
    IF NOT pg_has_role((SELECT relowner FROM pg_class WHERE oid = TG_RELID), 'USAGE') AND (SELECT xmin FROM trial_cut WHERE entry = NEW.cut) IS DISTINCT FROM mod(txid_current(), 4294967296)::text::xid THEN
        RAISE EXCEPTION 'the log is append-only' USING ERRCODE = 'integrity_constraint_violation';
    END IF;
    RETURN NEW;
END $$

CREATE OR REPLACE FUNCTION fitlog_digest(before text, said text) RETURNS text
    LANGUAGE sql IMMUTABLE SET search_path FROM CURRENT AS $$
SELECT encode(sha256(convert_to(before || E'\n' || said, 'UTF8')), 'hex')
$$

CREATE OR REPLACE FUNCTION bit_no_overwrite() RETURNS trigger LANGUAGE plpgsql SET search_path FROM CURRENT AS $$
BEGIN
    IF EXISTS (SELECT 1 FROM bit WHERE id = NEW.id OR lower(name) = lower(NEW.name)) THEN
        RAISE EXCEPTION 'the log is append-only' USING ERRCODE = 'integrity_constraint_violation';
    END IF;
    RETURN NEW;
END $$

CREATE TRIGGER bit_number BEFORE INSERT ON bit FOR EACH ROW EXECUTE FUNCTION fitlog_number()

CREATE OR REPLACE FUNCTION bit_no_renumber() RETURNS trigger LANGUAGE plpgsql SET search_path FROM CURRENT AS $$
BEGIN
    IF NEW.id <> OLD.id THEN
        RAISE EXCEPTION 'the log is append-only' USING ERRCODE = 'integrity_constraint_violation';
    END IF;
    RETURN NEW;
END $$

CREATE TRIGGER bit_no_renumber BEFORE UPDATE ON bit FOR EACH ROW EXECUTE FUNCTION bit_no_renumber()

CREATE OR REPLACE FUNCTION bit_no_in_use() RETURNS trigger LANGUAGE plpgsql SET search_path FROM CURRENT AS $$
BEGIN
    IF EXISTS (SELECT 1 FROM setup WHERE bit_id = OLD.id) OR EXISTS (SELECT 1 FROM sharpening WHERE bit = OLD.id) THEN
        RAISE EXCEPTION 'the log refers to it' USING ERRCODE = 'integrity_constraint_violation';
    END IF;
    RETURN OLD;
END $$

CREATE OR REPLACE FUNCTION stock_no_overwrite() RETURNS trigger LANGUAGE plpgsql SET search_path FROM CURRENT AS $$
BEGIN
    IF EXISTS (SELECT 1 FROM stock WHERE id = NEW.id OR lower(name) = lower(NEW.name)) THEN
        RAISE EXCEPTION 'the log is append-only' USING ERRCODE = 'integrity_constraint_violation';
    END IF;
    RETURN NEW;
END $$

CREATE TRIGGER stock_number BEFORE INSERT ON stock FOR EACH ROW EXECUTE FUNCTION fitlog_number()

CREATE OR REPLACE FUNCTION stock_no_renumber() RETURNS trigger LANGUAGE plpgsql SET search_path FROM CURRENT AS $$
BEGIN
    IF NEW.id <> OLD.id THEN
        RAISE EXCEPTION 'the log is append-only' USING ERRCODE = 'integrity_constraint_violation';
    END IF;
    RETURN NEW;
END $$

CREATE TRIGGER stock_no_renumber BEFORE UPDATE ON stock FOR EACH ROW EXECUTE FUNCTION stock_no_renumber()

CREATE OR REPLACE FUNCTION stock_no_in_use() RETURNS trigger LANGUAGE plpgsql SET search_path FROM CURRENT AS $$
BEGIN
    IF EXISTS (SELECT 1 FROM setup WHERE OLD.id IN (stock_id, pin_stock_id)) THEN
        RAISE EXCEPTION 'the log refers to it' USING ERRCODE = 'integrity_constraint_violation';
    END IF;
    RETURN OLD;
END $$

CREATE OR REPLACE FUNCTION machine_no_overwrite() RETURNS trigger LANGUAGE plpgsql SET search_path FROM CURRENT AS $$
BEGIN
    IF EXISTS (SELECT 1 FROM machine WHERE id = NEW.id OR lower(name) = lower(NEW.name)) THEN
        RAISE EXCEPTION 'the log is append-only' USING ERRCODE = 'integrity_constraint_violation';
    END IF;
    RETURN NEW;
END $$

CREATE TRIGGER machine_number BEFORE INSERT ON machine FOR EACH ROW EXECUTE FUNCTION fitlog_number()

CREATE OR REPLACE FUNCTION machine_no_renumber() RETURNS trigger LANGUAGE plpgsql SET search_path FROM CURRENT AS $$
BEGIN
    IF NEW.id <> OLD.id THEN
        RAISE EXCEPTION 'the log is append-only' USING ERRCODE = 'integrity_constraint_violation';
    END IF;
    RETURN NEW;
END $$

CREATE TRIGGER machine_no_renumber BEFORE UPDATE ON machine FOR EACH ROW EXECUTE FUNCTION machine_no_renumber()

CREATE OR REPLACE FUNCTION machine_no_in_use() RETURNS trigger LANGUAGE plpgsql SET search_path FROM CURRENT AS $$
BEGIN
    IF EXISTS (SELECT 1 FROM setup WHERE machine_id = OLD.id) THEN
        RAISE EXCEPTION 'the log refers to it' USING ERRCODE = 'integrity_constraint_violation';
    END IF;
    RETURN OLD;
END $$

CREATE OR REPLACE FUNCTION sharpening_no_overwrite() RETURNS trigger LANGUAGE plpgsql SET search_path FROM CURRENT AS $$
BEGIN
    IF EXISTS (SELECT 1 FROM sharpening WHERE id = NEW.id) THEN
        RAISE EXCEPTION 'the log is append-only' USING ERRCODE = 'integrity_constraint_violation';
    END IF;
    RETURN NEW;
END $$

CREATE TRIGGER sharpening_number BEFORE INSERT ON sharpening FOR EACH ROW EXECUTE FUNCTION fitlog_number()

CREATE OR REPLACE FUNCTION entry_no_overwrite() RETURNS trigger LANGUAGE plpgsql SET search_path FROM CURRENT AS $$
BEGIN
    IF EXISTS (SELECT 1 FROM entry WHERE id = NEW.id) THEN
        RAISE EXCEPTION 'the log is append-only' USING ERRCODE = 'integrity_constraint_violation';
    END IF;
    RETURN NEW;
END $$

CREATE TRIGGER entry_number BEFORE INSERT ON entry FOR EACH ROW EXECUTE FUNCTION fitlog_number()

CREATE TRIGGER entry_role BEFORE INSERT ON entry FOR EACH ROW EXECUTE FUNCTION fitlog_role()

CREATE CONSTRAINT TRIGGER entry_whole AFTER INSERT ON entry DEFERRABLE INITIALLY DEFERRED FOR EACH ROW EXECUTE FUNCTION fitlog_whole()

CREATE OR REPLACE FUNCTION setup_no_overwrite() RETURNS trigger LANGUAGE plpgsql SET search_path FROM CURRENT AS $$
BEGIN
    IF EXISTS (SELECT 1 FROM setup WHERE id = NEW.id OR entry = NEW.entry) THEN
        RAISE EXCEPTION 'the log is append-only' USING ERRCODE = 'integrity_constraint_violation';
    END IF;
    RETURN NEW;
END $$

CREATE TRIGGER setup_number BEFORE INSERT ON setup FOR EACH ROW EXECUTE FUNCTION fitlog_number()

CREATE OR REPLACE FUNCTION setup_no_kind() RETURNS trigger LANGUAGE plpgsql SET search_path FROM CURRENT AS $$
BEGIN
    IF (SELECT kind FROM entry WHERE id = NEW.entry) IS DISTINCT FROM 'start' THEN
        RAISE EXCEPTION 'its entry is no start' USING ERRCODE = 'integrity_constraint_violation';
    END IF;
    RETURN NEW;
END $$

CREATE OR REPLACE FUNCTION advice_no_overwrite() RETURNS trigger LANGUAGE plpgsql SET search_path FROM CURRENT AS $$
BEGIN
    IF EXISTS (SELECT 1 FROM advice WHERE id = NEW.id) THEN
        RAISE EXCEPTION 'the log is append-only' USING ERRCODE = 'integrity_constraint_violation';
    END IF;
    RETURN NEW;
END $$

CREATE TRIGGER advice_number BEFORE INSERT ON advice FOR EACH ROW EXECUTE FUNCTION fitlog_number()

CREATE OR REPLACE FUNCTION trial_cut_no_overwrite() RETURNS trigger LANGUAGE plpgsql SET search_path FROM CURRENT AS $$
BEGIN
    IF EXISTS (SELECT 1 FROM trial_cut WHERE entry = NEW.entry) THEN
        RAISE EXCEPTION 'the log is append-only' USING ERRCODE = 'integrity_constraint_violation';
    END IF;
    RETURN NEW;
END $$

CREATE OR REPLACE FUNCTION trial_cut_no_kind() RETURNS trigger LANGUAGE plpgsql SET search_path FROM CURRENT AS $$
BEGIN
    IF (SELECT kind FROM entry WHERE id = NEW.entry) IS DISTINCT FROM 'cut' THEN
        RAISE EXCEPTION 'its entry is no cut' USING ERRCODE = 'integrity_constraint_violation';
    END IF;
    RETURN NEW;
END $$

CREATE OR REPLACE FUNCTION trial_cut_no_stranger() RETURNS trigger LANGUAGE plpgsql SET search_path FROM CURRENT AS $$
BEGIN
    IF NOT EXISTS (SELECT 1 FROM advice JOIN entry AS own ON own.id = NEW.entry WHERE advice.id = NEW.advice AND advice.setup = own.setup) THEN
        RAISE EXCEPTION 'it refers to another set-up' USING ERRCODE = 'integrity_constraint_violation';
    END IF;
    RETURN NEW;
END $$

CREATE TRIGGER trial_cut_no_stranger BEFORE INSERT ON trial_cut FOR EACH ROW EXECUTE FUNCTION trial_cut_no_stranger()

CREATE OR REPLACE FUNCTION verdict_no_overwrite() RETURNS trigger LANGUAGE plpgsql SET search_path FROM CURRENT AS $$
BEGIN
    IF EXISTS (SELECT 1 FROM verdict WHERE id = NEW.id OR (cut = NEW.cut AND aspect = NEW.aspect AND aspect <> 'fault')) THEN
        RAISE EXCEPTION 'the log is append-only' USING ERRCODE = 'integrity_constraint_violation';
    END IF;
    RETURN NEW;
END $$

CREATE TRIGGER verdict_number BEFORE INSERT ON verdict FOR EACH ROW EXECUTE FUNCTION fitlog_number()

CREATE TRIGGER verdict_together BEFORE INSERT ON verdict FOR EACH ROW EXECUTE FUNCTION fitlog_together()

CREATE OR REPLACE FUNCTION reading_no_overwrite() RETURNS trigger LANGUAGE plpgsql SET search_path FROM CURRENT AS $$
BEGIN
    IF EXISTS (SELECT 1 FROM reading WHERE id = NEW.id) THEN
        RAISE EXCEPTION 'the log is append-only' USING ERRCODE = 'integrity_constraint_violation';
    END IF;
    RETURN NEW;
END $$

CREATE TRIGGER reading_number BEFORE INSERT ON reading FOR EACH ROW EXECUTE FUNCTION fitlog_number()

CREATE TRIGGER reading_together BEFORE INSERT ON reading FOR EACH ROW EXECUTE FUNCTION fitlog_together()

CREATE OR REPLACE FUNCTION found_no_overwrite() RETURNS trigger LANGUAGE plpgsql SET search_path FROM CURRENT AS $$
BEGIN
    IF EXISTS (SELECT 1 FROM found WHERE entry = NEW.entry) THEN
        RAISE EXCEPTION 'the log is append-only' USING ERRCODE = 'integrity_constraint_violation';
    END IF;
    RETURN NEW;
END $$

CREATE OR REPLACE FUNCTION found_no_kind() RETURNS trigger LANGUAGE plpgsql SET search_path FROM CURRENT AS $$
BEGIN
    IF (SELECT kind FROM entry WHERE id = NEW.entry) IS DISTINCT FROM 'found' THEN
        RAISE EXCEPTION 'its entry is no found' USING ERRCODE = 'integrity_constraint_violation';
    END IF;
    RETURN NEW;
END $$

CREATE OR REPLACE FUNCTION found_no_stranger() RETURNS trigger LANGUAGE plpgsql SET search_path FROM CURRENT AS $$
BEGIN
    IF NOT EXISTS (SELECT 1 FROM advice JOIN entry AS own ON own.id = NEW.entry WHERE advice.id = NEW.advice AND advice.setup = own.setup) THEN
        RAISE EXCEPTION 'it refers to another set-up' USING ERRCODE = 'integrity_constraint_violation';
    END IF;
    RETURN NEW;
END $$

CREATE TRIGGER found_no_stranger BEFORE INSERT ON found FOR EACH ROW EXECUTE FUNCTION found_no_stranger()

CREATE OR REPLACE FUNCTION retraction_no_overwrite() RETURNS trigger LANGUAGE plpgsql SET search_path FROM CURRENT AS $$
BEGIN
    IF EXISTS (SELECT 1 FROM retraction WHERE entry = NEW.entry OR (retracted = NEW.retracted AND NOT EXISTS (SELECT 1 FROM redo WHERE redone = retraction.entry))) THEN
        RAISE EXCEPTION 'the log is append-only' USING ERRCODE = 'integrity_constraint_violation';
    END IF;
    RETURN NEW;
END $$

CREATE OR REPLACE FUNCTION retraction_no_kind() RETURNS trigger LANGUAGE plpgsql SET search_path FROM CURRENT AS $$
BEGIN
    IF (SELECT kind FROM entry WHERE id = NEW.entry) IS DISTINCT FROM 'retract' THEN
        RAISE EXCEPTION 'its entry is no retract' USING ERRCODE = 'integrity_constraint_violation';
    END IF;
    RETURN NEW;
END $$

CREATE OR REPLACE FUNCTION retraction_no_stranger() RETURNS trigger LANGUAGE plpgsql SET search_path FROM CURRENT AS $$
BEGIN
    IF NOT EXISTS (SELECT 1 FROM entry JOIN entry AS own ON own.id = NEW.entry WHERE entry.id = NEW.retracted AND entry.kind IN ('start', 'cut', 'found', 'finish', 'finish-as-is', 'abandon') AND entry.setup = own.setup) THEN
        RAISE EXCEPTION 'it refers to another set-up' USING ERRCODE = 'integrity_constraint_violation';
    END IF;
    RETURN NEW;
END $$

CREATE TRIGGER retraction_no_stranger BEFORE INSERT ON retraction FOR EACH ROW EXECUTE FUNCTION retraction_no_stranger()

CREATE OR REPLACE FUNCTION redo_no_overwrite() RETURNS trigger LANGUAGE plpgsql SET search_path FROM CURRENT AS $$
BEGIN
    IF EXISTS (SELECT 1 FROM redo WHERE entry = NEW.entry OR redone = NEW.redone) THEN
        RAISE EXCEPTION 'the log is append-only' USING ERRCODE = 'integrity_constraint_violation';
    END IF;
    RETURN NEW;
END $$

CREATE OR REPLACE FUNCTION redo_no_kind() RETURNS trigger LANGUAGE plpgsql SET search_path FROM CURRENT AS $$
BEGIN
    IF (SELECT kind FROM entry WHERE id = NEW.entry) IS DISTINCT FROM 'redo' THEN
        RAISE EXCEPTION 'its entry is no redo' USING ERRCODE = 'integrity_constraint_violation';
    END IF;
    RETURN NEW;
END $$

CREATE OR REPLACE FUNCTION redo_no_stranger() RETURNS trigger LANGUAGE plpgsql SET search_path FROM CURRENT AS $$
BEGIN
    IF NOT EXISTS (SELECT 1 FROM entry JOIN entry AS own ON own.id = NEW.entry WHERE entry.id = NEW.redone AND entry.setup = own.setup) THEN
        RAISE EXCEPTION 'it refers to another set-up' USING ERRCODE = 'integrity_constraint_violation';
    END IF;
    RETURN NEW;
END $$

CREATE TRIGGER redo_no_stranger BEFORE INSERT ON redo FOR EACH ROW EXECUTE FUNCTION redo_no_stranger()

CREATE OR REPLACE FUNCTION preference_no_overwrite() RETURNS trigger LANGUAGE plpgsql SET search_path FROM CURRENT AS $$
BEGIN
    IF EXISTS (SELECT 1 FROM preference WHERE id = NEW.id) THEN
        RAISE EXCEPTION 'the log is append-only' USING ERRCODE = 'integrity_constraint_violation';
    END IF;
    RETURN NEW;
END $$

CREATE TRIGGER preference_number BEFORE INSERT ON preference FOR EACH ROW EXECUTE FUNCTION fitlog_number()

COMMENT ON TABLE fitlog_turn IS 'Locked by who writes, so that one waits for another.'

DO $$
DECLARE
    held record;
BEGIN
    FOR held IN
        SELECT DISTINCT CASE WHEN r.grantee = 0 THEN 'PUBLIC' ELSE quote_ident(pg_get_userbyid(r.grantee)) END AS whose
        FROM pg_class, aclexplode(relacl) AS r
        WHERE oid = 'entry'::regclass AND r.privilege_type = 'INSERT' AND r.grantee <> relowner
    LOOP
        EXECUTE format('GRANT DELETE ON fitlog_turn TO %s', held.whose);
    END LOOP;
END $$
