-- How a log of layout 5 was laid out in PostgreSQL, by the fitlog that had it; its rows are those of log-v5.db.

SELECT set_config('search_path', quote_ident(current_schema()) || ', pg_temp', true);

CREATE TABLE fitlog_layout (
    application text NOT NULL CHECK (application = 'fitlog'),
    version integer NOT NULL PRIMARY KEY CHECK (version > 0)
);

CREATE TABLE fitlog_turn ();

CREATE FUNCTION fitlog_refuse() RETURNS trigger LANGUAGE plpgsql SET search_path FROM CURRENT AS $$
BEGIN
    RAISE EXCEPTION '%', TG_ARGV[0] USING ERRCODE = 'integrity_constraint_violation';
END $$;

CREATE FUNCTION fitlog_turn() RETURNS trigger LANGUAGE plpgsql SET search_path FROM CURRENT AS $$
BEGIN
    LOCK TABLE fitlog_turn IN EXCLUSIVE MODE;
    RETURN NULL;
END $$;

CREATE FUNCTION fitlog_next(of_table text) RETURNS bigint
    LANGUAGE plpgsql SET search_path FROM CURRENT AS $$
DECLARE
    following bigint;
BEGIN
    EXECUTE format('SELECT coalesce(max(id), 0) + 1 FROM %I', of_table) INTO following;
    RETURN following;
END $$;

CREATE FUNCTION fitlog_number() RETURNS trigger LANGUAGE plpgsql SET search_path FROM CURRENT AS $$
DECLARE
    following bigint := fitlog_next(TG_TABLE_NAME);
BEGIN
    IF NEW.id <> following AND NOT (pg_has_role((SELECT relowner FROM pg_class WHERE oid = TG_RELID), 'USAGE') AND NEW.id <= following + 1000000) THEN
        RAISE EXCEPTION 'a number is the one after the last' USING ERRCODE = 'integrity_constraint_violation';
    END IF;
    RETURN NEW;
END $$;

CREATE FUNCTION fitlog_role() RETURNS trigger LANGUAGE plpgsql SET search_path FROM CURRENT AS $$
BEGIN
    NEW.role := session_user;
    RETURN NEW;
END $$;

CREATE FUNCTION fitlog_whole() RETURNS trigger LANGUAGE plpgsql SET search_path FROM CURRENT AS $$
BEGIN
    IF NEW.kind = 'start' AND NOT EXISTS (SELECT 1 FROM setup WHERE entry = NEW.id AND id = NEW.setup) OR NEW.kind = 'cut' AND NOT EXISTS (SELECT 1 FROM trial_cut WHERE entry = NEW.id) OR NEW.kind = 'found' AND NOT EXISTS (SELECT 1 FROM found WHERE entry = NEW.id) OR NEW.kind = 'retract' AND NOT EXISTS (SELECT 1 FROM retraction WHERE entry = NEW.id) OR NEW.kind = 'redo' AND NOT EXISTS (SELECT 1 FROM redo WHERE entry = NEW.id) THEN
        RAISE EXCEPTION 'an entry lacks what belongs to it' USING ERRCODE = 'integrity_constraint_violation';
    END IF;
    RETURN NULL;
END $$;

CREATE FUNCTION fitlog_together() RETURNS trigger LANGUAGE plpgsql SET search_path FROM CURRENT AS $$
BEGIN
    IF NOT pg_has_role((SELECT relowner FROM pg_class WHERE oid = TG_RELID), 'USAGE') AND (SELECT xmin FROM trial_cut WHERE entry = NEW.cut) IS DISTINCT FROM mod(txid_current(), 4294967296)::text::xid THEN
        RAISE EXCEPTION 'the log is append-only' USING ERRCODE = 'integrity_constraint_violation';
    END IF;
    RETURN NEW;
END $$;

CREATE FUNCTION fitlog_digest(before text, said text) RETURNS text
    LANGUAGE sql IMMUTABLE SET search_path FROM CURRENT AS $$
SELECT encode(sha256(convert_to(before || E'\n' || said, 'UTF8')), 'hex')
$$;

CREATE TABLE bit (
	id BIGINT DEFAULT fitlog_next('bit') NOT NULL CHECK (id > 0), 
	name TEXT NOT NULL CHECK (length(trim(name)) BETWEEN 1 AND 60 AND name NOT LIKE '-%'), 
	diameter DOUBLE PRECISION NOT NULL CHECK (diameter > 0 AND diameter <= 150), 
	measured INTEGER NOT NULL CHECK (measured IN (0, 1)), 
	angle DOUBLE PRECISION NOT NULL CHECK (angle >= 0 AND angle <= 45), 
	cutting_length DOUBLE PRECISION NOT NULL CHECK (cutting_length > 0 AND cutting_length <= 150), 
	neck DOUBLE PRECISION CHECK (neck > 0 AND neck <= 150), 
	retired INTEGER NOT NULL CHECK (retired IN (0, 1)), 
	digest TEXT CHECK (length(digest) BETWEEN 64 AND 65), 
	PRIMARY KEY (id), 
	CHECK (neck IS NULL OR neck < diameter), 
	UNIQUE (name)
);

COMMENT ON TABLE bit IS 'A cutter as it is today; earlier diameters are in sharpening.';

COMMENT ON COLUMN bit.id IS 'number of the bit';

COMMENT ON COLUMN bit.name IS 'what the user calls it, whatever the case of the letters';

COMMENT ON COLUMN bit.diameter IS 'cutting diameter at the tip today, mm';

COMMENT ON COLUMN bit.measured IS '1: the diameter was measured, 0: it is the printed one';

COMMENT ON COLUMN bit.angle IS 'side angle from the axis of the bit, degrees';

COMMENT ON COLUMN bit.cutting_length IS 'length of the flanks, mm';

COMMENT ON COLUMN bit.neck IS 'thinnest part above the flanks, mm; NULL: where they end';

COMMENT ON COLUMN bit.retired IS '1: no longer offered';

COMMENT ON COLUMN bit.digest IS 'over the row and what belongs to it, after the one before (SHA-256); ~: made later';

CREATE TABLE stock (
	id BIGINT DEFAULT fitlog_next('stock') NOT NULL CHECK (id > 0), 
	name TEXT NOT NULL CHECK (length(trim(name)) BETWEEN 1 AND 60 AND name NOT LIKE '-%'), 
	species TEXT NOT NULL CHECK (length(species) <= 2000), 
	thickness DOUBLE PRECISION NOT NULL CHECK (thickness >= 1 AND thickness <= 100), 
	width DOUBLE PRECISION NOT NULL CHECK (width >= 10 AND width <= 2000), 
	retired INTEGER NOT NULL CHECK (retired IN (0, 1)), 
	moisture DOUBLE PRECISION CHECK (moisture >= 1 AND moisture <= 40), 
	temperature DOUBLE PRECISION CHECK (temperature BETWEEN -60 AND 60), 
	humidity DOUBLE PRECISION CHECK ((humidity IS NULL) = (temperature IS NULL) AND humidity BETWEEN 1 AND 99), 
	sawn TEXT DEFAULT '' NOT NULL CHECK (sawn IN ('', 'flat', 'quarter')), 
	digest TEXT CHECK (length(digest) BETWEEN 64 AND 65), 
	PRIMARY KEY (id), 
	UNIQUE (name)
);

COMMENT ON TABLE stock IS 'A kind of board.';

COMMENT ON COLUMN stock.id IS 'number of the stock';

COMMENT ON COLUMN stock.name IS 'what the user calls it, whatever the case of the letters';

COMMENT ON COLUMN stock.species IS 'wood or board material';

COMMENT ON COLUMN stock.thickness IS 'usual thickness, mm';

COMMENT ON COLUMN stock.width IS 'usual width, mm';

COMMENT ON COLUMN stock.retired IS '1: no longer offered';

COMMENT ON COLUMN stock.moisture IS 'by a meter, % of the dry weight; NULL: not known';

COMMENT ON COLUMN stock.temperature IS 'of the air it lay in, deg C; NULL: not said';

COMMENT ON COLUMN stock.humidity IS 'of that air, %; NULL: not said';

COMMENT ON COLUMN stock.sawn IS 'how it was sawn; empty: not said';

COMMENT ON COLUMN stock.digest IS 'over the row and what belongs to it, after the one before (SHA-256); ~: made later';

CREATE TABLE machine (
	id BIGINT DEFAULT fitlog_next('machine') NOT NULL CHECK (id > 0), 
	name TEXT NOT NULL CHECK (length(trim(name)) BETWEEN 1 AND 60 AND name NOT LIKE '-%'), 
	retired INTEGER NOT NULL CHECK (retired IN (0, 1)), 
	parts TEXT NOT NULL CHECK (json_typeof(CAST(parts AS json)) = 'object' AND length(parts) <= 4000), 
	digest TEXT CHECK (length(digest) BETWEEN 64 AND 65), 
	PRIMARY KEY (id), 
	UNIQUE (name)
);

COMMENT ON TABLE machine IS 'A machine: the smallest moves its parts can be set by, and where their scales start.';

COMMENT ON COLUMN machine.id IS 'number of the machine';

COMMENT ON COLUMN machine.name IS 'what the user calls it, whatever the case of the letters';

COMMENT ON COLUMN machine.retired IS '1: no longer offered';

COMMENT ON COLUMN machine.parts IS 'by the machine''s part what is known of it: pack (what is stacked to set it), step, turn (travel per turn), backlash, zero (its scale less the truth), mm; between: it is set between its marks by eye too; one of them: parts::json ->> ''NAME''';

COMMENT ON COLUMN machine.digest IS 'over the row and what belongs to it, after the one before (SHA-256); ~: made later';

CREATE TABLE sharpening (
	id BIGINT DEFAULT fitlog_next('sharpening') NOT NULL CHECK (id > 0), 
	bit BIGINT NOT NULL CHECK (bit > 0), 
	at TEXT NOT NULL CHECK (at LIKE '____-__-__T__:__:__.______Z' AND CAST(at AS timestamptz) IS NOT NULL), 
	by TEXT NOT NULL CHECK (length(by) <= 200), 
	diameter_before DOUBLE PRECISION NOT NULL CHECK (diameter_before > 0 AND diameter_before <= 150), 
	measured_before INTEGER NOT NULL CHECK (measured_before IN (0, 1)), 
	diameter_after DOUBLE PRECISION CHECK (diameter_after > 0 AND diameter_after <= 150), 
	digest TEXT CHECK (length(digest) BETWEEN 64 AND 65), 
	PRIMARY KEY (id)
);

COMMENT ON TABLE sharpening IS 'A bit was sharpened: its diameter is another from here on. Append-only.';

COMMENT ON COLUMN sharpening.id IS 'order of the sharpenings';

COMMENT ON COLUMN sharpening.bit IS 'the bit';

COMMENT ON COLUMN sharpening.at IS 'when';

COMMENT ON COLUMN sharpening.by IS 'who, as logged in or as preferred';

COMMENT ON COLUMN sharpening.diameter_before IS 'cutting diameter until then, mm';

COMMENT ON COLUMN sharpening.measured_before IS '1: that diameter was measured';

COMMENT ON COLUMN sharpening.diameter_after IS 'measured afterwards, mm; NULL: not yet';

COMMENT ON COLUMN sharpening.digest IS 'over the row and what belongs to it, after the one before (SHA-256); ~: made later';

CREATE TABLE entry (
	id BIGINT DEFAULT fitlog_next('entry') NOT NULL CHECK (id > 0), 
	kind TEXT NOT NULL CHECK (kind IN ('start', 'cut', 'choose', 'finish', 'abandon', 'retract', 'found', 'finish-as-is', 'redo')), 
	setup BIGINT NOT NULL CHECK (setup > 0), 
	at TEXT NOT NULL CHECK (at LIKE '____-__-__T__:__:__.______Z' AND CAST(at AS timestamptz) IS NOT NULL), 
	by TEXT NOT NULL CHECK (length(by) <= 200), 
	machine TEXT CHECK (length(trim(machine)) BETWEEN 1 AND 60 AND machine NOT LIKE '-%'), 
	key TEXT CHECK (length(key) BETWEEN 1 AND 100), 
	role TEXT CHECK (length(role) BETWEEN 1 AND 100), 
	digest TEXT CHECK (length(digest) BETWEEN 64 AND 65), 
	PRIMARY KEY (id)
);

COMMENT ON TABLE entry IS 'The one order of the log: everything that happened to a set-up. Append-only.';

COMMENT ON COLUMN entry.id IS 'order of the log';

COMMENT ON COLUMN entry.kind IS 'what happened';

COMMENT ON COLUMN entry.setup IS 'the set-up it happened to';

COMMENT ON COLUMN entry.at IS 'when';

COMMENT ON COLUMN entry.by IS 'who, as logged in or as preferred';

COMMENT ON COLUMN entry.machine IS 'name of the machine then in use; NULL: not said';

COMMENT ON COLUMN entry.key IS 'what its writer calls it, to find it again; NULL: nothing';

COMMENT ON COLUMN entry.role IS 'the server''s role that wrote it; NULL: in a file';

COMMENT ON COLUMN entry.digest IS 'over the row and what belongs to it, after the one before (SHA-256); ~: made later';

CREATE TABLE setup (
	id BIGINT DEFAULT fitlog_next('setup') NOT NULL CHECK (id > 0), 
	entry BIGINT NOT NULL CHECK (entry > 0), 
	joint TEXT NOT NULL CHECK (length(trim(joint)) BETWEEN 1 AND 60 AND joint NOT LIKE '-%'), 
	bit_id BIGINT NOT NULL CHECK (bit_id > 0), 
	stock_id BIGINT NOT NULL CHECK (stock_id > 0), 
	pin_stock_id BIGINT NOT NULL CHECK (pin_stock_id > 0), 
	machine_id BIGINT CHECK (machine_id > 0), 
	board_width DOUBLE PRECISION NOT NULL CHECK (board_width >= 10 AND board_width <= 2000), 
	tail_thickness DOUBLE PRECISION NOT NULL CHECK (tail_thickness >= 1 AND tail_thickness <= 100), 
	pin_thickness DOUBLE PRECISION NOT NULL CHECK (pin_thickness >= 1 AND pin_thickness <= 100), 
	in_play TEXT NOT NULL CHECK (length(in_play) BETWEEN 1 AND 1000), 
	words_only INTEGER NOT NULL CHECK (words_only IN (0, 1)), 
	scrap TEXT NOT NULL CHECK (length(scrap) <= 2000), 
	piece_width DOUBLE PRECISION CHECK (piece_width > 0 AND piece_width <= 1000000), 
	piece_thickness DOUBLE PRECISION CHECK (piece_thickness > 0 AND piece_thickness <= 1000000), 
	sharpenings BIGINT NOT NULL CHECK (sharpenings >= 0), 
	moisture DOUBLE PRECISION CHECK (moisture >= 1 AND moisture <= 40), 
	pin_moisture DOUBLE PRECISION CHECK (pin_moisture >= 1 AND pin_moisture <= 40), 
	scrap_moisture DOUBLE PRECISION CHECK (scrap_moisture >= 1 AND scrap_moisture <= 40), 
	figures TEXT NOT NULL CHECK (json_typeof(CAST(figures AS json)) = 'object' AND length(figures) <= 4000), 
	settings TEXT NOT NULL CHECK (json_typeof(CAST(settings AS json)) = 'object' AND length(settings) <= 4000), 
	zeros TEXT CHECK (json_typeof(CAST(zeros AS json)) = 'object' AND length(zeros) <= 4000), 
	PRIMARY KEY (id), 
	CHECK ((machine_id IS NULL) = (zeros IS NULL)), 
	UNIQUE (entry)
);

COMMENT ON TABLE setup IS 'A set-up: what stays fixed from its start to its finish. Append-only.';

COMMENT ON COLUMN setup.id IS 'the number shown to users';

COMMENT ON COLUMN setup.entry IS 'the entry that started it';

COMMENT ON COLUMN setup.joint IS 'the joint being tuned';

COMMENT ON COLUMN setup.bit_id IS 'the bit';

COMMENT ON COLUMN setup.stock_id IS 'stock of the tail board';

COMMENT ON COLUMN setup.pin_stock_id IS 'stock of the pin board';

COMMENT ON COLUMN setup.machine_id IS 'the machine; NULL: not said';

COMMENT ON COLUMN setup.board_width IS 'width of the boards, mm';

COMMENT ON COLUMN setup.tail_thickness IS 'thickness of the tail board, mm';

COMMENT ON COLUMN setup.pin_thickness IS 'thickness of the pin board, mm';

COMMENT ON COLUMN setup.in_play IS 'what is tuned, with commas between';

COMMENT ON COLUMN setup.words_only IS '1: nothing is measured';

COMMENT ON COLUMN setup.scrap IS 'material of the test pieces, empty: the board''s own';

COMMENT ON COLUMN setup.piece_width IS 'width of the test pieces, mm; NULL: the board''s';

COMMENT ON COLUMN setup.piece_thickness IS 'their thickness, mm; NULL: the board''s';

COMMENT ON COLUMN setup.sharpenings IS 'how often the bit had been sharpened';

COMMENT ON COLUMN setup.moisture IS 'of the tail board, %; NULL: not known';

COMMENT ON COLUMN setup.pin_moisture IS 'of the pin board, %; NULL: not known';

COMMENT ON COLUMN setup.scrap_moisture IS 'of the test pieces, %; NULL: not known';

COMMENT ON COLUMN setup.figures IS 'what else the joint''s family fixes at the start, lengths in mm; one of them: figures::json ->> ''NAME''';

COMMENT ON COLUMN setup.settings IS 'first settings advised, mm; one of them: settings::json ->> ''NAME''';

COMMENT ON COLUMN setup.zeros IS 'zeros of the machine''s scales then, by part, mm, of those that have one; NULL: no machine; one of them: zeros::json ->> ''NAME''';

CREATE TABLE advice (
	id BIGINT DEFAULT fitlog_next('advice') NOT NULL CHECK (id > 0), 
	setup BIGINT NOT NULL CHECK (setup > 0), 
	entry BIGINT NOT NULL CHECK (entry > 0), 
	at TEXT NOT NULL CHECK (at LIKE '____-__-__T__:__:__.______Z' AND CAST(at AS timestamptz) IS NOT NULL), 
	settings TEXT NOT NULL CHECK (json_typeof(CAST(settings AS json)) = 'object' AND length(settings) <= 4000), 
	document TEXT CHECK (CAST(document AS json) IS NOT NULL), 
	by TEXT CHECK (length(by) <= 200), 
	machine TEXT CHECK (length(trim(machine)) BETWEEN 1 AND 60 AND machine NOT LIKE '-%'), 
	digest TEXT CHECK (length(digest) BETWEEN 64 AND 65), 
	PRIMARY KEY (id)
);

COMMENT ON TABLE advice IS 'An advice as it was shown. Append-only.';

COMMENT ON COLUMN advice.id IS 'order of the advices';

COMMENT ON COLUMN advice.setup IS 'the set-up';

COMMENT ON COLUMN advice.entry IS 'newest entry of the log when it was shown';

COMMENT ON COLUMN advice.at IS 'when';

COMMENT ON COLUMN advice.settings IS 'settings to set, mm; one of them: settings::json ->> ''NAME''';

COMMENT ON COLUMN advice.document IS 'the JSON document shown';

COMMENT ON COLUMN advice.by IS 'to whom; NULL: not known';

COMMENT ON COLUMN advice.machine IS 'name of the machine it is for; NULL: not said';

COMMENT ON COLUMN advice.digest IS 'over the row and what belongs to it, after the one before (SHA-256); ~: made later';

CREATE TABLE trial_cut (
	entry BIGINT NOT NULL CHECK (entry > 0), 
	advice BIGINT NOT NULL CHECK (advice > 0), 
	piece BIGINT NOT NULL CHECK (piece >= 1), 
	settings TEXT NOT NULL CHECK (json_typeof(CAST(settings AS json)) = 'object' AND length(settings) <= 4000), 
	stated TEXT NOT NULL CHECK (length(stated) BETWEEN 0 AND 1000), 
	advised TEXT CHECK (json_typeof(CAST(advised AS json)) = 'object' AND length(advised) <= 4000), 
	heard TEXT NOT NULL CHECK (length(heard) <= 2000), 
	note TEXT NOT NULL CHECK (length(note) <= 2000), 
	scrap TEXT NOT NULL CHECK (length(scrap) <= 2000), 
	sizes TEXT NOT NULL CHECK (json_typeof(CAST(sizes AS json)) = 'object' AND length(sizes) <= 4000), 
	slot INTEGER DEFAULT 0 NOT NULL CHECK (slot IN (0, 1)), 
	recut_of BIGINT CHECK (recut_of >= 1 AND recut_of < piece), 
	PRIMARY KEY (entry)
);

COMMENT ON TABLE trial_cut IS 'One entry about a test piece, with the settings it was cut at. Append-only.';

COMMENT ON COLUMN trial_cut.entry IS 'its entry in the log';

COMMENT ON COLUMN trial_cut.advice IS 'the advice in force when it was logged';

COMMENT ON COLUMN trial_cut.piece IS 'number of the test piece in its set-up';

COMMENT ON COLUMN trial_cut.settings IS 'settings used, mm; one of them: settings::json ->> ''NAME''';

COMMENT ON COLUMN trial_cut.stated IS 'those the user gave, with commas between; the others are from the advice';

COMMENT ON COLUMN trial_cut.advised IS 'settings advised for it, mm; NULL: not known; one of them: advised::json ->> ''NAME''';

COMMENT ON COLUMN trial_cut.heard IS 'the words as typed';

COMMENT ON COLUMN trial_cut.note IS 'the user''s note';

COMMENT ON COLUMN trial_cut.scrap IS 'material of this piece, empty: the set-up''s';

COMMENT ON COLUMN trial_cut.sizes IS 'of this piece where they are not the set-up''s, mm; one of them: sizes::json ->> ''NAME''';

COMMENT ON COLUMN trial_cut.slot IS '1: only a slot in waste, measured; its piece is the next one''s number';

COMMENT ON COLUMN trial_cut.recut_of IS 'piece whose end was cut again for this one; NULL: a fresh end';

CREATE TABLE verdict (
	id BIGINT DEFAULT fitlog_next('verdict') NOT NULL CHECK (id > 0), 
	cut BIGINT NOT NULL CHECK (cut > 0), 
	aspect TEXT NOT NULL CHECK (length(trim(aspect)) BETWEEN 1 AND 60), 
	word TEXT NOT NULL CHECK (length(trim(word)) BETWEEN 1 AND 60), 
	size DOUBLE PRECISION CHECK (size > 0 AND size <= 1000000), 
	PRIMARY KEY (id)
);

COMMENT ON TABLE verdict IS 'What was said of one aspect of a piece, or where a gap was seen. Append-only.';

COMMENT ON COLUMN verdict.id IS 'order in which it was said';

COMMENT ON COLUMN verdict.cut IS 'the trial cut';

COMMENT ON COLUMN verdict.aspect IS 'what was judged; fault: a gap no setting cures';

COMMENT ON COLUMN verdict.word IS 'the word of the aspect, or the place of the gap';

COMMENT ON COLUMN verdict.size IS 'the number said with it, mm; NULL: none';

CREATE TABLE reading (
	id BIGINT DEFAULT fitlog_next('reading') NOT NULL CHECK (id > 0), 
	cut BIGINT NOT NULL CHECK (cut > 0), 
	kind TEXT NOT NULL CHECK (length(trim(kind)) BETWEEN 1 AND 60), 
	value DOUBLE PRECISION NOT NULL CHECK (value > 0 AND value <= 1000000), 
	rod DOUBLE PRECISION CHECK (rod > 0 AND rod <= 1000000), 
	other DOUBLE PRECISION CHECK (other > 0 AND other <= 1000000), 
	PRIMARY KEY (id), 
	CHECK (rod IS NULL OR other IS NULL)
);

COMMENT ON TABLE reading IS 'A number measured on a piece. Append-only.';

COMMENT ON COLUMN reading.id IS 'order in which it was measured';

COMMENT ON COLUMN reading.cut IS 'the trial cut';

COMMENT ON COLUMN reading.kind IS 'what was measured';

COMMENT ON COLUMN reading.value IS 'the reading, mm; of two the one at the fence';

COMMENT ON COLUMN reading.rod IS 'diameter of the rods, mm; NULL: no rods';

COMMENT ON COLUMN reading.other IS 'the second reading, mm; NULL: only one';

CREATE TABLE found (
	entry BIGINT NOT NULL CHECK (entry > 0), 
	advice BIGINT NOT NULL CHECK (advice > 0), 
	settings TEXT NOT NULL CHECK (json_typeof(CAST(settings AS json)) = 'object' AND length(settings) <= 4000), 
	PRIMARY KEY (entry), 
	CHECK (settings <> '{}')
);

COMMENT ON TABLE found IS 'What stood at the machine when somebody came back to a set-up. Append-only.';

COMMENT ON COLUMN found.entry IS 'its entry in the log';

COMMENT ON COLUMN found.advice IS 'the advice whose settings were remembered';

COMMENT ON COLUMN found.settings IS 'settings found, those measured, mm; one of them: settings::json ->> ''NAME''';

CREATE TABLE retraction (
	entry BIGINT NOT NULL CHECK (entry > 0), 
	retracted BIGINT NOT NULL CHECK (retracted > 0), 
	PRIMARY KEY (entry), 
	CHECK (retracted < entry)
);

COMMENT ON TABLE retraction IS 'An entry taken back, until that is taken back itself by a redo. Append-only.';

COMMENT ON COLUMN retraction.entry IS 'the entry that takes back';

COMMENT ON COLUMN retraction.retracted IS 'the entry taken back';

CREATE TABLE redo (
	entry BIGINT NOT NULL CHECK (entry > 0), 
	redone BIGINT NOT NULL CHECK (redone > 0), 
	PRIMARY KEY (entry), 
	CHECK (redone < entry), 
	UNIQUE (redone)
);

COMMENT ON TABLE redo IS 'A taking back that is taken back itself: what it took away stands again. Append-only.';

COMMENT ON COLUMN redo.entry IS 'the entry that brings back';

COMMENT ON COLUMN redo.redone IS 'the taking back that holds no longer';

CREATE TABLE preference (
	id BIGINT DEFAULT fitlog_next('preference') NOT NULL CHECK (id > 0), 
	login TEXT NOT NULL CHECK (length(login) <= 200), 
	key TEXT NOT NULL CHECK (key IN ('units', 'name', 'machine')), 
	value TEXT NOT NULL CHECK (length(value) <= 200), 
	at TEXT NOT NULL CHECK (at LIKE '____-__-__T__:__:__.______Z' AND CAST(at AS timestamptz) IS NOT NULL), 
	digest TEXT CHECK (length(digest) BETWEEN 64 AND 65), 
	PRIMARY KEY (id)
);

COMMENT ON TABLE preference IS 'What a user prefers; the newest row of a key stands. Append-only.';

COMMENT ON COLUMN preference.id IS 'order of the preferences';

COMMENT ON COLUMN preference.login IS 'who, as logged in';

COMMENT ON COLUMN preference.key IS 'units: of lengths; name: to be called by; machine: to be at';

COMMENT ON COLUMN preference.value IS 'what is preferred';

COMMENT ON COLUMN preference.at IS 'when';

COMMENT ON COLUMN preference.digest IS 'over the row and what belongs to it, after the one before (SHA-256); ~: made later';

ALTER TABLE sharpening ADD FOREIGN KEY (bit) REFERENCES bit (id) ON DELETE RESTRICT;

ALTER TABLE entry ADD FOREIGN KEY (setup) REFERENCES setup (id) ON DELETE RESTRICT DEFERRABLE INITIALLY DEFERRED;

ALTER TABLE setup ADD FOREIGN KEY (bit_id) REFERENCES bit (id) ON DELETE RESTRICT;

ALTER TABLE setup ADD FOREIGN KEY (entry) REFERENCES entry (id) ON DELETE RESTRICT;

ALTER TABLE setup ADD FOREIGN KEY (machine_id) REFERENCES machine (id) ON DELETE RESTRICT;

ALTER TABLE setup ADD FOREIGN KEY (pin_stock_id) REFERENCES stock (id) ON DELETE RESTRICT;

ALTER TABLE setup ADD FOREIGN KEY (stock_id) REFERENCES stock (id) ON DELETE RESTRICT;

ALTER TABLE advice ADD FOREIGN KEY (entry) REFERENCES entry (id) ON DELETE RESTRICT;

ALTER TABLE advice ADD FOREIGN KEY (setup) REFERENCES setup (id) ON DELETE RESTRICT;

ALTER TABLE trial_cut ADD FOREIGN KEY (advice) REFERENCES advice (id) ON DELETE RESTRICT;

ALTER TABLE trial_cut ADD FOREIGN KEY (entry) REFERENCES entry (id) ON DELETE RESTRICT;

ALTER TABLE verdict ADD FOREIGN KEY (cut) REFERENCES trial_cut (entry) ON DELETE RESTRICT;

ALTER TABLE reading ADD FOREIGN KEY (cut) REFERENCES trial_cut (entry) ON DELETE RESTRICT;

ALTER TABLE found ADD FOREIGN KEY (advice) REFERENCES advice (id) ON DELETE RESTRICT;

ALTER TABLE found ADD FOREIGN KEY (entry) REFERENCES entry (id) ON DELETE RESTRICT;

ALTER TABLE retraction ADD FOREIGN KEY (entry) REFERENCES entry (id) ON DELETE RESTRICT;

ALTER TABLE retraction ADD FOREIGN KEY (retracted) REFERENCES entry (id) ON DELETE RESTRICT;

ALTER TABLE redo ADD FOREIGN KEY (entry) REFERENCES entry (id) ON DELETE RESTRICT;

ALTER TABLE redo ADD FOREIGN KEY (redone) REFERENCES retraction (entry) ON DELETE RESTRICT;

CREATE TRIGGER a_turn BEFORE INSERT OR UPDATE OR DELETE ON bit FOR EACH STATEMENT EXECUTE FUNCTION fitlog_turn();

CREATE FUNCTION bit_no_overwrite() RETURNS trigger LANGUAGE plpgsql SET search_path FROM CURRENT AS $$
BEGIN
    IF EXISTS (SELECT 1 FROM bit WHERE id = NEW.id OR lower(name) = lower(NEW.name)) THEN
        RAISE EXCEPTION 'the log is append-only' USING ERRCODE = 'integrity_constraint_violation';
    END IF;
    RETURN NEW;
END $$;

CREATE TRIGGER bit_no_overwrite BEFORE INSERT ON bit FOR EACH ROW EXECUTE FUNCTION bit_no_overwrite();

CREATE TRIGGER bit_number BEFORE INSERT ON bit FOR EACH ROW EXECUTE FUNCTION fitlog_number();

CREATE TRIGGER bit_no_empty BEFORE TRUNCATE ON bit FOR EACH STATEMENT EXECUTE FUNCTION fitlog_refuse('the log is append-only');

CREATE FUNCTION bit_no_renumber() RETURNS trigger LANGUAGE plpgsql SET search_path FROM CURRENT AS $$
BEGIN
    IF NEW.id <> OLD.id THEN
        RAISE EXCEPTION 'the log is append-only' USING ERRCODE = 'integrity_constraint_violation';
    END IF;
    RETURN NEW;
END $$;

CREATE TRIGGER bit_no_renumber BEFORE UPDATE ON bit FOR EACH ROW EXECUTE FUNCTION bit_no_renumber();

CREATE FUNCTION bit_no_in_use() RETURNS trigger LANGUAGE plpgsql SET search_path FROM CURRENT AS $$
BEGIN
    IF EXISTS (SELECT 1 FROM setup WHERE bit_id = OLD.id) OR EXISTS (SELECT 1 FROM sharpening WHERE bit = OLD.id) THEN
        RAISE EXCEPTION 'the log refers to it' USING ERRCODE = 'integrity_constraint_violation';
    END IF;
    RETURN OLD;
END $$;

CREATE TRIGGER bit_no_in_use BEFORE DELETE ON bit FOR EACH ROW EXECUTE FUNCTION bit_no_in_use();

CREATE TRIGGER a_turn BEFORE INSERT OR UPDATE OR DELETE ON stock FOR EACH STATEMENT EXECUTE FUNCTION fitlog_turn();

CREATE FUNCTION stock_no_overwrite() RETURNS trigger LANGUAGE plpgsql SET search_path FROM CURRENT AS $$
BEGIN
    IF EXISTS (SELECT 1 FROM stock WHERE id = NEW.id OR lower(name) = lower(NEW.name)) THEN
        RAISE EXCEPTION 'the log is append-only' USING ERRCODE = 'integrity_constraint_violation';
    END IF;
    RETURN NEW;
END $$;

CREATE TRIGGER stock_no_overwrite BEFORE INSERT ON stock FOR EACH ROW EXECUTE FUNCTION stock_no_overwrite();

CREATE TRIGGER stock_number BEFORE INSERT ON stock FOR EACH ROW EXECUTE FUNCTION fitlog_number();

CREATE TRIGGER stock_no_empty BEFORE TRUNCATE ON stock FOR EACH STATEMENT EXECUTE FUNCTION fitlog_refuse('the log is append-only');

CREATE FUNCTION stock_no_renumber() RETURNS trigger LANGUAGE plpgsql SET search_path FROM CURRENT AS $$
BEGIN
    IF NEW.id <> OLD.id THEN
        RAISE EXCEPTION 'the log is append-only' USING ERRCODE = 'integrity_constraint_violation';
    END IF;
    RETURN NEW;
END $$;

CREATE TRIGGER stock_no_renumber BEFORE UPDATE ON stock FOR EACH ROW EXECUTE FUNCTION stock_no_renumber();

CREATE FUNCTION stock_no_in_use() RETURNS trigger LANGUAGE plpgsql SET search_path FROM CURRENT AS $$
BEGIN
    IF EXISTS (SELECT 1 FROM setup WHERE OLD.id IN (stock_id, pin_stock_id)) THEN
        RAISE EXCEPTION 'the log refers to it' USING ERRCODE = 'integrity_constraint_violation';
    END IF;
    RETURN OLD;
END $$;

CREATE TRIGGER stock_no_in_use BEFORE DELETE ON stock FOR EACH ROW EXECUTE FUNCTION stock_no_in_use();

CREATE TRIGGER a_turn BEFORE INSERT OR UPDATE OR DELETE ON machine FOR EACH STATEMENT EXECUTE FUNCTION fitlog_turn();

CREATE FUNCTION machine_no_overwrite() RETURNS trigger LANGUAGE plpgsql SET search_path FROM CURRENT AS $$
BEGIN
    IF EXISTS (SELECT 1 FROM machine WHERE id = NEW.id OR lower(name) = lower(NEW.name)) THEN
        RAISE EXCEPTION 'the log is append-only' USING ERRCODE = 'integrity_constraint_violation';
    END IF;
    RETURN NEW;
END $$;

CREATE TRIGGER machine_no_overwrite BEFORE INSERT ON machine FOR EACH ROW EXECUTE FUNCTION machine_no_overwrite();

CREATE TRIGGER machine_number BEFORE INSERT ON machine FOR EACH ROW EXECUTE FUNCTION fitlog_number();

CREATE TRIGGER machine_no_empty BEFORE TRUNCATE ON machine FOR EACH STATEMENT EXECUTE FUNCTION fitlog_refuse('the log is append-only');

CREATE FUNCTION machine_no_renumber() RETURNS trigger LANGUAGE plpgsql SET search_path FROM CURRENT AS $$
BEGIN
    IF NEW.id <> OLD.id THEN
        RAISE EXCEPTION 'the log is append-only' USING ERRCODE = 'integrity_constraint_violation';
    END IF;
    RETURN NEW;
END $$;

CREATE TRIGGER machine_no_renumber BEFORE UPDATE ON machine FOR EACH ROW EXECUTE FUNCTION machine_no_renumber();

CREATE FUNCTION machine_no_in_use() RETURNS trigger LANGUAGE plpgsql SET search_path FROM CURRENT AS $$
BEGIN
    IF EXISTS (SELECT 1 FROM setup WHERE machine_id = OLD.id) THEN
        RAISE EXCEPTION 'the log refers to it' USING ERRCODE = 'integrity_constraint_violation';
    END IF;
    RETURN OLD;
END $$;

CREATE TRIGGER machine_no_in_use BEFORE DELETE ON machine FOR EACH ROW EXECUTE FUNCTION machine_no_in_use();

CREATE TRIGGER a_turn BEFORE INSERT OR UPDATE OR DELETE ON sharpening FOR EACH STATEMENT EXECUTE FUNCTION fitlog_turn();

CREATE FUNCTION sharpening_no_overwrite() RETURNS trigger LANGUAGE plpgsql SET search_path FROM CURRENT AS $$
BEGIN
    IF EXISTS (SELECT 1 FROM sharpening WHERE id = NEW.id) THEN
        RAISE EXCEPTION 'the log is append-only' USING ERRCODE = 'integrity_constraint_violation';
    END IF;
    RETURN NEW;
END $$;

CREATE TRIGGER sharpening_no_overwrite BEFORE INSERT ON sharpening FOR EACH ROW EXECUTE FUNCTION sharpening_no_overwrite();

CREATE TRIGGER sharpening_number BEFORE INSERT ON sharpening FOR EACH ROW EXECUTE FUNCTION fitlog_number();

CREATE TRIGGER sharpening_no_empty BEFORE TRUNCATE ON sharpening FOR EACH STATEMENT EXECUTE FUNCTION fitlog_refuse('the log is append-only');

CREATE TRIGGER sharpening_no_update BEFORE UPDATE ON sharpening FOR EACH STATEMENT EXECUTE FUNCTION fitlog_refuse('the log is append-only');

CREATE TRIGGER sharpening_no_delete BEFORE DELETE ON sharpening FOR EACH STATEMENT EXECUTE FUNCTION fitlog_refuse('the log is append-only');

CREATE TRIGGER a_turn BEFORE INSERT OR UPDATE OR DELETE ON entry FOR EACH STATEMENT EXECUTE FUNCTION fitlog_turn();

CREATE FUNCTION entry_no_overwrite() RETURNS trigger LANGUAGE plpgsql SET search_path FROM CURRENT AS $$
BEGIN
    IF EXISTS (SELECT 1 FROM entry WHERE id = NEW.id) THEN
        RAISE EXCEPTION 'the log is append-only' USING ERRCODE = 'integrity_constraint_violation';
    END IF;
    RETURN NEW;
END $$;

CREATE TRIGGER entry_no_overwrite BEFORE INSERT ON entry FOR EACH ROW EXECUTE FUNCTION entry_no_overwrite();

CREATE TRIGGER entry_number BEFORE INSERT ON entry FOR EACH ROW EXECUTE FUNCTION fitlog_number();

CREATE TRIGGER entry_no_empty BEFORE TRUNCATE ON entry FOR EACH STATEMENT EXECUTE FUNCTION fitlog_refuse('the log is append-only');

CREATE TRIGGER entry_no_update BEFORE UPDATE ON entry FOR EACH STATEMENT EXECUTE FUNCTION fitlog_refuse('the log is append-only');

CREATE TRIGGER entry_no_delete BEFORE DELETE ON entry FOR EACH STATEMENT EXECUTE FUNCTION fitlog_refuse('the log is append-only');

CREATE TRIGGER entry_role BEFORE INSERT ON entry FOR EACH ROW EXECUTE FUNCTION fitlog_role();

CREATE CONSTRAINT TRIGGER entry_whole AFTER INSERT ON entry DEFERRABLE INITIALLY DEFERRED FOR EACH ROW EXECUTE FUNCTION fitlog_whole();

CREATE TRIGGER a_turn BEFORE INSERT OR UPDATE OR DELETE ON setup FOR EACH STATEMENT EXECUTE FUNCTION fitlog_turn();

CREATE FUNCTION setup_no_overwrite() RETURNS trigger LANGUAGE plpgsql SET search_path FROM CURRENT AS $$
BEGIN
    IF EXISTS (SELECT 1 FROM setup WHERE id = NEW.id OR entry = NEW.entry) THEN
        RAISE EXCEPTION 'the log is append-only' USING ERRCODE = 'integrity_constraint_violation';
    END IF;
    RETURN NEW;
END $$;

CREATE TRIGGER setup_no_overwrite BEFORE INSERT ON setup FOR EACH ROW EXECUTE FUNCTION setup_no_overwrite();

CREATE TRIGGER setup_number BEFORE INSERT ON setup FOR EACH ROW EXECUTE FUNCTION fitlog_number();

CREATE TRIGGER setup_no_empty BEFORE TRUNCATE ON setup FOR EACH STATEMENT EXECUTE FUNCTION fitlog_refuse('the log is append-only');

CREATE TRIGGER setup_no_update BEFORE UPDATE ON setup FOR EACH STATEMENT EXECUTE FUNCTION fitlog_refuse('the log is append-only');

CREATE TRIGGER setup_no_delete BEFORE DELETE ON setup FOR EACH STATEMENT EXECUTE FUNCTION fitlog_refuse('the log is append-only');

CREATE FUNCTION setup_no_kind() RETURNS trigger LANGUAGE plpgsql SET search_path FROM CURRENT AS $$
BEGIN
    IF (SELECT kind FROM entry WHERE id = NEW.entry) IS DISTINCT FROM 'start' THEN
        RAISE EXCEPTION 'its entry is no start' USING ERRCODE = 'integrity_constraint_violation';
    END IF;
    RETURN NEW;
END $$;

CREATE TRIGGER setup_no_kind BEFORE INSERT ON setup FOR EACH ROW EXECUTE FUNCTION setup_no_kind();

CREATE TRIGGER a_turn BEFORE INSERT OR UPDATE OR DELETE ON advice FOR EACH STATEMENT EXECUTE FUNCTION fitlog_turn();

CREATE FUNCTION advice_no_overwrite() RETURNS trigger LANGUAGE plpgsql SET search_path FROM CURRENT AS $$
BEGIN
    IF EXISTS (SELECT 1 FROM advice WHERE id = NEW.id) THEN
        RAISE EXCEPTION 'the log is append-only' USING ERRCODE = 'integrity_constraint_violation';
    END IF;
    RETURN NEW;
END $$;

CREATE TRIGGER advice_no_overwrite BEFORE INSERT ON advice FOR EACH ROW EXECUTE FUNCTION advice_no_overwrite();

CREATE TRIGGER advice_number BEFORE INSERT ON advice FOR EACH ROW EXECUTE FUNCTION fitlog_number();

CREATE TRIGGER advice_no_empty BEFORE TRUNCATE ON advice FOR EACH STATEMENT EXECUTE FUNCTION fitlog_refuse('the log is append-only');

CREATE TRIGGER advice_no_update BEFORE UPDATE ON advice FOR EACH STATEMENT EXECUTE FUNCTION fitlog_refuse('the log is append-only');

CREATE TRIGGER advice_no_delete BEFORE DELETE ON advice FOR EACH STATEMENT EXECUTE FUNCTION fitlog_refuse('the log is append-only');

CREATE TRIGGER a_turn BEFORE INSERT OR UPDATE OR DELETE ON trial_cut FOR EACH STATEMENT EXECUTE FUNCTION fitlog_turn();

CREATE FUNCTION trial_cut_no_overwrite() RETURNS trigger LANGUAGE plpgsql SET search_path FROM CURRENT AS $$
BEGIN
    IF EXISTS (SELECT 1 FROM trial_cut WHERE entry = NEW.entry) THEN
        RAISE EXCEPTION 'the log is append-only' USING ERRCODE = 'integrity_constraint_violation';
    END IF;
    RETURN NEW;
END $$;

CREATE TRIGGER trial_cut_no_overwrite BEFORE INSERT ON trial_cut FOR EACH ROW EXECUTE FUNCTION trial_cut_no_overwrite();

CREATE TRIGGER trial_cut_no_empty BEFORE TRUNCATE ON trial_cut FOR EACH STATEMENT EXECUTE FUNCTION fitlog_refuse('the log is append-only');

CREATE TRIGGER trial_cut_no_update BEFORE UPDATE ON trial_cut FOR EACH STATEMENT EXECUTE FUNCTION fitlog_refuse('the log is append-only');

CREATE TRIGGER trial_cut_no_delete BEFORE DELETE ON trial_cut FOR EACH STATEMENT EXECUTE FUNCTION fitlog_refuse('the log is append-only');

CREATE FUNCTION trial_cut_no_kind() RETURNS trigger LANGUAGE plpgsql SET search_path FROM CURRENT AS $$
BEGIN
    IF (SELECT kind FROM entry WHERE id = NEW.entry) IS DISTINCT FROM 'cut' THEN
        RAISE EXCEPTION 'its entry is no cut' USING ERRCODE = 'integrity_constraint_violation';
    END IF;
    RETURN NEW;
END $$;

CREATE TRIGGER trial_cut_no_kind BEFORE INSERT ON trial_cut FOR EACH ROW EXECUTE FUNCTION trial_cut_no_kind();

CREATE FUNCTION trial_cut_no_stranger() RETURNS trigger LANGUAGE plpgsql SET search_path FROM CURRENT AS $$
BEGIN
    IF NOT EXISTS (SELECT 1 FROM advice JOIN entry AS own ON own.id = NEW.entry WHERE advice.id = NEW.advice AND advice.setup = own.setup) THEN
        RAISE EXCEPTION 'it refers to another set-up' USING ERRCODE = 'integrity_constraint_violation';
    END IF;
    RETURN NEW;
END $$;

CREATE TRIGGER trial_cut_no_stranger BEFORE INSERT ON trial_cut FOR EACH ROW EXECUTE FUNCTION trial_cut_no_stranger();

CREATE TRIGGER a_turn BEFORE INSERT OR UPDATE OR DELETE ON verdict FOR EACH STATEMENT EXECUTE FUNCTION fitlog_turn();

CREATE FUNCTION verdict_no_overwrite() RETURNS trigger LANGUAGE plpgsql SET search_path FROM CURRENT AS $$
BEGIN
    IF EXISTS (SELECT 1 FROM verdict WHERE id = NEW.id OR (cut = NEW.cut AND aspect = NEW.aspect AND aspect <> 'fault')) THEN
        RAISE EXCEPTION 'the log is append-only' USING ERRCODE = 'integrity_constraint_violation';
    END IF;
    RETURN NEW;
END $$;

CREATE TRIGGER verdict_no_overwrite BEFORE INSERT ON verdict FOR EACH ROW EXECUTE FUNCTION verdict_no_overwrite();

CREATE TRIGGER verdict_number BEFORE INSERT ON verdict FOR EACH ROW EXECUTE FUNCTION fitlog_number();

CREATE TRIGGER verdict_no_empty BEFORE TRUNCATE ON verdict FOR EACH STATEMENT EXECUTE FUNCTION fitlog_refuse('the log is append-only');

CREATE TRIGGER verdict_no_update BEFORE UPDATE ON verdict FOR EACH STATEMENT EXECUTE FUNCTION fitlog_refuse('the log is append-only');

CREATE TRIGGER verdict_no_delete BEFORE DELETE ON verdict FOR EACH STATEMENT EXECUTE FUNCTION fitlog_refuse('the log is append-only');

CREATE TRIGGER verdict_together BEFORE INSERT ON verdict FOR EACH ROW EXECUTE FUNCTION fitlog_together();

CREATE TRIGGER a_turn BEFORE INSERT OR UPDATE OR DELETE ON reading FOR EACH STATEMENT EXECUTE FUNCTION fitlog_turn();

CREATE FUNCTION reading_no_overwrite() RETURNS trigger LANGUAGE plpgsql SET search_path FROM CURRENT AS $$
BEGIN
    IF EXISTS (SELECT 1 FROM reading WHERE id = NEW.id) THEN
        RAISE EXCEPTION 'the log is append-only' USING ERRCODE = 'integrity_constraint_violation';
    END IF;
    RETURN NEW;
END $$;

CREATE TRIGGER reading_no_overwrite BEFORE INSERT ON reading FOR EACH ROW EXECUTE FUNCTION reading_no_overwrite();

CREATE TRIGGER reading_number BEFORE INSERT ON reading FOR EACH ROW EXECUTE FUNCTION fitlog_number();

CREATE TRIGGER reading_no_empty BEFORE TRUNCATE ON reading FOR EACH STATEMENT EXECUTE FUNCTION fitlog_refuse('the log is append-only');

CREATE TRIGGER reading_no_update BEFORE UPDATE ON reading FOR EACH STATEMENT EXECUTE FUNCTION fitlog_refuse('the log is append-only');

CREATE TRIGGER reading_no_delete BEFORE DELETE ON reading FOR EACH STATEMENT EXECUTE FUNCTION fitlog_refuse('the log is append-only');

CREATE TRIGGER reading_together BEFORE INSERT ON reading FOR EACH ROW EXECUTE FUNCTION fitlog_together();

CREATE TRIGGER a_turn BEFORE INSERT OR UPDATE OR DELETE ON found FOR EACH STATEMENT EXECUTE FUNCTION fitlog_turn();

CREATE FUNCTION found_no_overwrite() RETURNS trigger LANGUAGE plpgsql SET search_path FROM CURRENT AS $$
BEGIN
    IF EXISTS (SELECT 1 FROM found WHERE entry = NEW.entry) THEN
        RAISE EXCEPTION 'the log is append-only' USING ERRCODE = 'integrity_constraint_violation';
    END IF;
    RETURN NEW;
END $$;

CREATE TRIGGER found_no_overwrite BEFORE INSERT ON found FOR EACH ROW EXECUTE FUNCTION found_no_overwrite();

CREATE TRIGGER found_no_empty BEFORE TRUNCATE ON found FOR EACH STATEMENT EXECUTE FUNCTION fitlog_refuse('the log is append-only');

CREATE TRIGGER found_no_update BEFORE UPDATE ON found FOR EACH STATEMENT EXECUTE FUNCTION fitlog_refuse('the log is append-only');

CREATE TRIGGER found_no_delete BEFORE DELETE ON found FOR EACH STATEMENT EXECUTE FUNCTION fitlog_refuse('the log is append-only');

CREATE FUNCTION found_no_kind() RETURNS trigger LANGUAGE plpgsql SET search_path FROM CURRENT AS $$
BEGIN
    IF (SELECT kind FROM entry WHERE id = NEW.entry) IS DISTINCT FROM 'found' THEN
        RAISE EXCEPTION 'its entry is no found' USING ERRCODE = 'integrity_constraint_violation';
    END IF;
    RETURN NEW;
END $$;

CREATE TRIGGER found_no_kind BEFORE INSERT ON found FOR EACH ROW EXECUTE FUNCTION found_no_kind();

CREATE FUNCTION found_no_stranger() RETURNS trigger LANGUAGE plpgsql SET search_path FROM CURRENT AS $$
BEGIN
    IF NOT EXISTS (SELECT 1 FROM advice JOIN entry AS own ON own.id = NEW.entry WHERE advice.id = NEW.advice AND advice.setup = own.setup) THEN
        RAISE EXCEPTION 'it refers to another set-up' USING ERRCODE = 'integrity_constraint_violation';
    END IF;
    RETURN NEW;
END $$;

CREATE TRIGGER found_no_stranger BEFORE INSERT ON found FOR EACH ROW EXECUTE FUNCTION found_no_stranger();

CREATE TRIGGER a_turn BEFORE INSERT OR UPDATE OR DELETE ON retraction FOR EACH STATEMENT EXECUTE FUNCTION fitlog_turn();

CREATE FUNCTION retraction_no_overwrite() RETURNS trigger LANGUAGE plpgsql SET search_path FROM CURRENT AS $$
BEGIN
    IF EXISTS (SELECT 1 FROM retraction WHERE entry = NEW.entry OR (retracted = NEW.retracted AND NOT EXISTS (SELECT 1 FROM redo WHERE redone = retraction.entry))) THEN
        RAISE EXCEPTION 'the log is append-only' USING ERRCODE = 'integrity_constraint_violation';
    END IF;
    RETURN NEW;
END $$;

CREATE TRIGGER retraction_no_overwrite BEFORE INSERT ON retraction FOR EACH ROW EXECUTE FUNCTION retraction_no_overwrite();

CREATE TRIGGER retraction_no_empty BEFORE TRUNCATE ON retraction FOR EACH STATEMENT EXECUTE FUNCTION fitlog_refuse('the log is append-only');

CREATE TRIGGER retraction_no_update BEFORE UPDATE ON retraction FOR EACH STATEMENT EXECUTE FUNCTION fitlog_refuse('the log is append-only');

CREATE TRIGGER retraction_no_delete BEFORE DELETE ON retraction FOR EACH STATEMENT EXECUTE FUNCTION fitlog_refuse('the log is append-only');

CREATE FUNCTION retraction_no_kind() RETURNS trigger LANGUAGE plpgsql SET search_path FROM CURRENT AS $$
BEGIN
    IF (SELECT kind FROM entry WHERE id = NEW.entry) IS DISTINCT FROM 'retract' THEN
        RAISE EXCEPTION 'its entry is no retract' USING ERRCODE = 'integrity_constraint_violation';
    END IF;
    RETURN NEW;
END $$;

CREATE TRIGGER retraction_no_kind BEFORE INSERT ON retraction FOR EACH ROW EXECUTE FUNCTION retraction_no_kind();

CREATE FUNCTION retraction_no_stranger() RETURNS trigger LANGUAGE plpgsql SET search_path FROM CURRENT AS $$
BEGIN
    IF NOT EXISTS (SELECT 1 FROM entry JOIN entry AS own ON own.id = NEW.entry WHERE entry.id = NEW.retracted AND entry.kind IN ('start', 'cut', 'found', 'finish', 'finish-as-is', 'abandon') AND entry.setup = own.setup) THEN
        RAISE EXCEPTION 'it refers to another set-up' USING ERRCODE = 'integrity_constraint_violation';
    END IF;
    RETURN NEW;
END $$;

CREATE TRIGGER retraction_no_stranger BEFORE INSERT ON retraction FOR EACH ROW EXECUTE FUNCTION retraction_no_stranger();

CREATE TRIGGER a_turn BEFORE INSERT OR UPDATE OR DELETE ON redo FOR EACH STATEMENT EXECUTE FUNCTION fitlog_turn();

CREATE FUNCTION redo_no_overwrite() RETURNS trigger LANGUAGE plpgsql SET search_path FROM CURRENT AS $$
BEGIN
    IF EXISTS (SELECT 1 FROM redo WHERE entry = NEW.entry OR redone = NEW.redone) THEN
        RAISE EXCEPTION 'the log is append-only' USING ERRCODE = 'integrity_constraint_violation';
    END IF;
    RETURN NEW;
END $$;

CREATE TRIGGER redo_no_overwrite BEFORE INSERT ON redo FOR EACH ROW EXECUTE FUNCTION redo_no_overwrite();

CREATE TRIGGER redo_no_empty BEFORE TRUNCATE ON redo FOR EACH STATEMENT EXECUTE FUNCTION fitlog_refuse('the log is append-only');

CREATE TRIGGER redo_no_update BEFORE UPDATE ON redo FOR EACH STATEMENT EXECUTE FUNCTION fitlog_refuse('the log is append-only');

CREATE TRIGGER redo_no_delete BEFORE DELETE ON redo FOR EACH STATEMENT EXECUTE FUNCTION fitlog_refuse('the log is append-only');

CREATE FUNCTION redo_no_kind() RETURNS trigger LANGUAGE plpgsql SET search_path FROM CURRENT AS $$
BEGIN
    IF (SELECT kind FROM entry WHERE id = NEW.entry) IS DISTINCT FROM 'redo' THEN
        RAISE EXCEPTION 'its entry is no redo' USING ERRCODE = 'integrity_constraint_violation';
    END IF;
    RETURN NEW;
END $$;

CREATE TRIGGER redo_no_kind BEFORE INSERT ON redo FOR EACH ROW EXECUTE FUNCTION redo_no_kind();

CREATE FUNCTION redo_no_stranger() RETURNS trigger LANGUAGE plpgsql SET search_path FROM CURRENT AS $$
BEGIN
    IF NOT EXISTS (SELECT 1 FROM entry JOIN entry AS own ON own.id = NEW.entry WHERE entry.id = NEW.redone AND entry.setup = own.setup) THEN
        RAISE EXCEPTION 'it refers to another set-up' USING ERRCODE = 'integrity_constraint_violation';
    END IF;
    RETURN NEW;
END $$;

CREATE TRIGGER redo_no_stranger BEFORE INSERT ON redo FOR EACH ROW EXECUTE FUNCTION redo_no_stranger();

CREATE TRIGGER a_turn BEFORE INSERT OR UPDATE OR DELETE ON preference FOR EACH STATEMENT EXECUTE FUNCTION fitlog_turn();

CREATE FUNCTION preference_no_overwrite() RETURNS trigger LANGUAGE plpgsql SET search_path FROM CURRENT AS $$
BEGIN
    IF EXISTS (SELECT 1 FROM preference WHERE id = NEW.id) THEN
        RAISE EXCEPTION 'the log is append-only' USING ERRCODE = 'integrity_constraint_violation';
    END IF;
    RETURN NEW;
END $$;

CREATE TRIGGER preference_no_overwrite BEFORE INSERT ON preference FOR EACH ROW EXECUTE FUNCTION preference_no_overwrite();

CREATE TRIGGER preference_number BEFORE INSERT ON preference FOR EACH ROW EXECUTE FUNCTION fitlog_number();

CREATE TRIGGER preference_no_empty BEFORE TRUNCATE ON preference FOR EACH STATEMENT EXECUTE FUNCTION fitlog_refuse('the log is append-only');

CREATE TRIGGER preference_no_update BEFORE UPDATE ON preference FOR EACH STATEMENT EXECUTE FUNCTION fitlog_refuse('the log is append-only');

CREATE TRIGGER preference_no_delete BEFORE DELETE ON preference FOR EACH STATEMENT EXECUTE FUNCTION fitlog_refuse('the log is append-only');

CREATE UNIQUE INDEX bit_of_name ON bit (lower(name));

CREATE UNIQUE INDEX stock_of_name ON stock (lower(name));

CREATE UNIQUE INDEX machine_of_name ON machine (lower(name));

CREATE UNIQUE INDEX verdict_of_aspect ON verdict (cut, aspect) WHERE aspect <> 'fault';

CREATE UNIQUE INDEX entry_of_key ON entry (key);

CREATE INDEX entry_of_setup ON entry (setup, kind);

CREATE INDEX entry_of_kind ON entry (kind, id);

CREATE INDEX entry_by ON entry (kind, by, setup);

CREATE INDEX setup_of_bit ON setup (bit_id, id);

CREATE INDEX setup_of_boards ON setup (bit_id, stock_id, pin_stock_id, id);

CREATE INDEX setup_of_stock ON setup (stock_id, id);

CREATE INDEX setup_of_pin_stock ON setup (pin_stock_id, id);

CREATE INDEX setup_at_machine ON setup (machine_id, id);

CREATE INDEX advice_of_setup ON advice (setup, id);

CREATE INDEX retraction_of ON retraction (retracted);

CREATE INDEX reading_of_cut ON reading (cut);

CREATE INDEX fault_of_cut ON verdict (cut);

CREATE INDEX sharpening_of_bit ON sharpening (bit);

COMMENT ON TABLE fitlog_layout IS 'Whose tables these are, and the number of their layout; the highest stands.';

COMMENT ON TABLE fitlog_turn IS 'Locked by who writes, so that one waits for another.';

INSERT INTO fitlog_layout VALUES ('fitlog', 5);
