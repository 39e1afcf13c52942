CREATE TABLE bit (
    -- A cutter as it is today; earlier diameters are in sharpening.
    -- number of the bit
    id INTEGER NOT NULL CHECK (id > 0),
    -- what the user calls it, whatever the case of the letters
    name TEXT COLLATE "NOCASE" NOT NULL CHECK (length(trim(name)) BETWEEN 1 AND 60 AND name NOT LIKE '-%'),
    -- cutting diameter at the tip today, mm
    diameter REAL NOT NULL CHECK (diameter > 0 AND diameter <= 150),
    -- 1: the diameter was measured, 0: it is the printed one
    measured INTEGER NOT NULL CHECK (measured IN (0, 1)),
    -- side angle from the axis of the bit, degrees
    angle REAL NOT NULL CHECK (angle >= 0 AND angle <= 45),
    -- length of the flanks, mm
    cutting_length REAL NOT NULL CHECK (cutting_length > 0 AND cutting_length <= 150),
    -- thinnest part above the flanks, mm; NULL: where they end
    neck REAL CHECK (neck > 0 AND neck <= 150),
    -- 1: no longer offered
    retired INTEGER NOT NULL CHECK (retired IN (0, 1)),
    PRIMARY KEY (id),
    CHECK (neck IS NULL OR neck < diameter),
    UNIQUE (name)
) STRICT

CREATE TABLE machine (
    -- A machine: the smallest moves its parts can be set by, and where their scales start.
    -- number of the machine
    id INTEGER NOT NULL CHECK (id > 0),
    -- what the user calls it, whatever the case of the letters
    name TEXT COLLATE "NOCASE" NOT NULL CHECK (length(trim(name)) BETWEEN 1 AND 60 AND name NOT LIKE '-%'),
    -- 1: no longer offered
    retired INTEGER NOT NULL CHECK (retired IN (0, 1)),
    -- by the machine's part what is known of it: pack (what is stacked to set it), step, turn (travel per turn), backlash, zero (its scale less the truth), mm; between: it is set between its marks by eye too; one of them: parts ->> 'NAME'
    parts TEXT NOT NULL CHECK (json_valid(parts) AND parts LIKE '{%' AND length(parts) <= 4000),
    PRIMARY KEY (id),
    UNIQUE (name)
) STRICT

CREATE TABLE setup (
    -- A set-up: what stays fixed from its start to its finish. Append-only.
    -- the number shown to users
    id INTEGER NOT NULL CHECK (id > 0),
    -- the entry that started it
    entry INTEGER NOT NULL CHECK (entry > 0),
    -- the joint being tuned
    joint TEXT NOT NULL CHECK (length(trim(joint)) BETWEEN 1 AND 60 AND joint NOT LIKE '-%'),
    -- the bit
    bit_id INTEGER NOT NULL CHECK (bit_id > 0),
    -- stock of the tail board
    stock_id INTEGER NOT NULL CHECK (stock_id > 0),
    -- stock of the pin board
    pin_stock_id INTEGER NOT NULL CHECK (pin_stock_id > 0),
    -- the machine; NULL: not said
    machine_id INTEGER CHECK (machine_id > 0),
    -- width of the boards, mm
    board_width REAL NOT NULL CHECK (board_width >= 10 AND board_width <= 2000),
    -- thickness of the tail board, mm
    tail_thickness REAL NOT NULL CHECK (tail_thickness >= 1 AND tail_thickness <= 100),
    -- thickness of the pin board, mm
    pin_thickness REAL NOT NULL CHECK (pin_thickness >= 1 AND pin_thickness <= 100),
    -- what is tuned, with commas between
    in_play TEXT NOT NULL CHECK (length(in_play) BETWEEN 1 AND 1000),
    -- 1: nothing is measured
    words_only INTEGER NOT NULL CHECK (words_only IN (0, 1)),
    -- material of the test pieces, empty: the board's own
    scrap TEXT NOT NULL CHECK (length(scrap) <= 2000),
    -- width of the test pieces, mm; NULL: the board's
    piece_width REAL CHECK (piece_width > 0 AND piece_width <= 1000000),
    -- their thickness, mm; NULL: the board's
    piece_thickness REAL CHECK (piece_thickness > 0 AND piece_thickness <= 1000000),
    -- how often the bit had been sharpened
    sharpenings INTEGER NOT NULL CHECK (sharpenings >= 0),
    -- of the tail board, %; NULL: not known
    moisture REAL CHECK (moisture >= 1 AND moisture <= 40),
    -- of the pin board, %; NULL: not known
    pin_moisture REAL CHECK (pin_moisture >= 1 AND pin_moisture <= 40),
    -- of the test pieces, %; NULL: not known
    scrap_moisture REAL CHECK (scrap_moisture >= 1 AND scrap_moisture <= 40),
    -- what else the joint's family fixes at the start, lengths in mm; one of them: figures ->> 'NAME'
    figures TEXT NOT NULL CHECK (json_valid(figures) AND figures LIKE '{%' AND length(figures) <= 4000),
    -- first settings advised, mm; one of them: settings ->> 'NAME'
    settings TEXT NOT NULL CHECK (json_valid(settings) AND settings LIKE '{%' AND length(settings) <= 4000),
    -- zeros of the machine's scales then, by part, mm, of those that have one; NULL: no machine; one of them: zeros ->> 'NAME'
    zeros TEXT CHECK (zeros IS NULL OR json_valid(zeros) AND zeros LIKE '{%' AND length(zeros) <= 4000),
    PRIMARY KEY (id),
    CHECK ((machine_id IS NULL) = (zeros IS NULL)),
    UNIQUE (entry),
    FOREIGN KEY(entry) REFERENCES entry (id) ON DELETE RESTRICT,
    FOREIGN KEY(bit_id) REFERENCES bit (id) ON DELETE RESTRICT,
    FOREIGN KEY(stock_id) REFERENCES stock (id) ON DELETE RESTRICT,
    FOREIGN KEY(pin_stock_id) REFERENCES stock (id) ON DELETE RESTRICT,
    FOREIGN KEY(machine_id) REFERENCES machine (id) ON DELETE RESTRICT
) STRICT

CREATE TABLE advice (
    -- An advice as it was shown. Append-only.
    -- order of the advices
    id INTEGER NOT NULL CHECK (id > 0),
    -- the set-up
    setup INTEGER NOT NULL CHECK (setup > 0),
    -- newest entry of the log when it was shown
    entry INTEGER NOT NULL CHECK (entry > 0),
    -- when
    at TEXT NOT NULL CHECK (at LIKE '____-__-__T__:__:__.______Z' AND julianday(at) IS NOT NULL),
    -- settings to set, mm; one of them: settings ->> 'NAME'
    settings TEXT NOT NULL CHECK (json_valid(settings) AND settings LIKE '{%' AND length(settings) <= 4000),
    -- the JSON document shown
    document TEXT CHECK (json_valid(document)),
    PRIMARY KEY (id),
    FOREIGN KEY(setup) REFERENCES setup (id) ON DELETE RESTRICT,
    FOREIGN KEY(entry) REFERENCES entry (id) ON DELETE RESTRICT
) STRICT

CREATE TABLE trial_cut (
    -- One entry about a test piece, with the settings it was cut at. Append-only.
    -- its entry in the log
    entry INTEGER NOT NULL CHECK (entry > 0),
    -- the advice in force when it was logged
    advice INTEGER NOT NULL CHECK (advice > 0),
    -- number of the test piece in its set-up
    piece INTEGER NOT NULL CHECK (piece >= 1),
    -- settings used, mm; one of them: settings ->> 'NAME'
    settings TEXT NOT NULL CHECK (json_valid(settings) AND settings LIKE '{%' AND length(settings) <= 4000),
    -- those the user gave, with commas between; the others are from the advice
    stated TEXT NOT NULL CHECK (length(stated) BETWEEN 0 AND 1000),
    -- settings advised for it, mm; NULL: not known; one of them: advised ->> 'NAME'
    advised TEXT CHECK (advised IS NULL OR json_valid(advised) AND advised LIKE '{%' AND length(advised) <= 4000),
    -- the words as typed
    heard TEXT NOT NULL CHECK (length(heard) <= 2000),
    -- the user's note
    note TEXT NOT NULL CHECK (length(note) <= 2000),
    -- material of this piece, empty: the set-up's
    scrap TEXT NOT NULL CHECK (length(scrap) <= 2000),
    -- of this piece where they are not the set-up's, mm; one of them: sizes ->> 'NAME'
    sizes TEXT NOT NULL CHECK (json_valid(sizes) AND sizes LIKE '{%' AND length(sizes) <= 4000),
    -- 1: only a slot in waste, measured; its piece is the next one's number
    slot INTEGER DEFAULT 0 NOT NULL CHECK (slot IN (0, 1)),
    -- piece whose end was cut again for this one; NULL: a fresh end
    recut_of INTEGER CHECK (recut_of >= 1 AND recut_of < piece),
    PRIMARY KEY (entry),
    FOREIGN KEY(entry) REFERENCES entry (id) ON DELETE RESTRICT,
    FOREIGN KEY(advice) REFERENCES advice (id) ON DELETE RESTRICT
) STRICT

CREATE TABLE verdict (
    -- What was said of one aspect of a piece, or where a gap was seen. Append-only.
    -- order in which it was said
    id INTEGER NOT NULL CHECK (id > 0),
    -- the trial cut
    cut INTEGER NOT NULL CHECK (cut > 0),
    -- what was judged; fault: a gap no setting cures
    aspect TEXT NOT NULL CHECK (length(trim(aspect)) BETWEEN 1 AND 60),
    -- the word of the aspect, or the place of the gap
    word TEXT NOT NULL CHECK (length(trim(word)) BETWEEN 1 AND 60),
    -- the number said with it, mm; NULL: none
    size REAL CHECK (size > 0 AND size <= 1000000),
    PRIMARY KEY (id),
    FOREIGN KEY(cut) REFERENCES trial_cut (entry) ON DELETE RESTRICT
) STRICT

CREATE TABLE reading (
    -- A number measured on a piece. Append-only.
    -- order in which it was measured
    id INTEGER NOT NULL CHECK (id > 0),
    -- the trial cut
    cut INTEGER NOT NULL CHECK (cut > 0),
    -- what was measured
    kind TEXT NOT NULL CHECK (length(trim(kind)) BETWEEN 1 AND 60),
    -- the reading, mm; of two the one at the fence
    value REAL NOT NULL CHECK (value > 0 AND value <= 1000000),
    -- diameter of the rods, mm; NULL: no rods
    rod REAL CHECK (rod > 0 AND rod <= 1000000),
    -- the second reading, mm; NULL: only one
    other REAL CHECK (other > 0 AND other <= 1000000),
    PRIMARY KEY (id),
    CHECK (rod IS NULL OR other IS NULL),
    FOREIGN KEY(cut) REFERENCES trial_cut (entry) ON DELETE RESTRICT
) STRICT

CREATE TABLE found (
    -- What stood at the machine when somebody came back to a set-up. Append-only.
    -- its entry in the log
    entry INTEGER NOT NULL CHECK (entry > 0),
    -- the advice whose settings were remembered
    advice INTEGER NOT NULL CHECK (advice > 0),
    -- settings found, those measured, mm; one of them: settings ->> 'NAME'
    settings TEXT NOT NULL CHECK (json_valid(settings) AND settings LIKE '{%' AND length(settings) <= 4000),
    PRIMARY KEY (entry),
    CHECK (settings <> '{}'),
    FOREIGN KEY(entry) REFERENCES entry (id) ON DELETE RESTRICT,
    FOREIGN KEY(advice) REFERENCES advice (id) ON DELETE RESTRICT
) STRICT

