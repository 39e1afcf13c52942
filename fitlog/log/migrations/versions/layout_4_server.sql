SET LOCAL extra_float_digits = 3

ALTER TABLE bit DROP CONSTRAINT bit_angle_check

ALTER TABLE bit ADD CHECK (angle >= 0 AND angle <= 45)

COMMENT ON TABLE bit IS 'A cutter as it is today; earlier diameters are in sharpening.'

ALTER TABLE machine DROP CONSTRAINT machine_height_step_check

ALTER TABLE machine
    ALTER COLUMN height_step TYPE text USING json_strip_nulls(json_build_object(
        'height', nullif(json_strip_nulls(json_build_object('step', height_step, 'turn', height_turn, 'zero', nullif(height_zero, 0), 'backlash', backlash, 'between', CASE WHEN 'height' = ANY (string_to_array(between_marks, ',')) THEN true END))::text, '{}')::json,
        'fence', nullif(json_strip_nulls(json_build_object('step', fence_step, 'zero', nullif(fence_zero, 0), 'between', CASE WHEN 'fence' = ANY (string_to_array(between_marks, ',')) THEN true END))::text, '{}')::json,
        'depth', nullif(json_strip_nulls(json_build_object('step', depth_step, 'between', CASE WHEN 'depth' = ANY (string_to_array(between_marks, ',')) THEN true END))::text, '{}')::json))::text

ALTER TABLE machine RENAME COLUMN height_step TO parts

ALTER TABLE machine
    DROP COLUMN height_turn,
    DROP COLUMN fence_step,
    DROP COLUMN backlash,
    DROP COLUMN height_zero,
    DROP COLUMN fence_zero,
    DROP COLUMN depth_step,
    DROP COLUMN between_marks

ALTER TABLE machine ALTER COLUMN parts SET NOT NULL

ALTER TABLE machine ADD CHECK (json_typeof(CAST(parts AS json)) = 'object' AND length(parts) <= 4000)

COMMENT ON COLUMN machine.parts IS 'by the machine''s part what is known of it: pack (what is stacked to set it), step, turn (travel per turn), backlash, zero (its scale less the truth), mm; between: it is set between its marks by eye too; one of them: parts::json ->> ''NAME'''

COMMENT ON TABLE machine IS 'A machine: the smallest moves its parts can be set by, and where their scales start.'

ALTER TABLE setup DROP CONSTRAINT setup_check

ALTER TABLE setup DROP CONSTRAINT setup_check1

ALTER TABLE setup DROP CONSTRAINT setup_pitch_check

ALTER TABLE setup DROP CONSTRAINT setup_bit_height_check

ALTER TABLE setup DROP CONSTRAINT setup_height_zero_check

ALTER TABLE setup DROP CONSTRAINT setup_in_play_check

ALTER TABLE setup
    ALTER COLUMN pitch TYPE text USING json_build_object(
        'pitch', pitch, 'rabbet_depth', rabbet_depth, 'rabbet_bit', rabbet_bit,
        'wanted_step', wanted_step, 'by_eye', by_eye = 1, 'spaced', spaced = 1,
        'many_tails', many_tails = 1, 'tails', tails, 'spacing', spacing)::text,
    ALTER COLUMN bit_height TYPE text USING json_build_object('bit_height', bit_height, 'fence_offset', fence_offset, 'socket_depth', socket_depth)::text,
    ALTER COLUMN height_zero TYPE text USING CASE WHEN machine_id IS NOT NULL THEN json_strip_nulls(json_build_object(
        'height', nullif(height_zero, 0), 'fence', nullif(fence_zero, 0)))::text END

ALTER TABLE setup RENAME COLUMN pitch TO figures

ALTER TABLE setup RENAME COLUMN bit_height TO settings

ALTER TABLE setup RENAME COLUMN height_zero TO zeros

ALTER TABLE setup
    DROP COLUMN rabbet_depth,
    DROP COLUMN rabbet_bit,
    DROP COLUMN wanted_step,
    DROP COLUMN by_eye,
    DROP COLUMN spaced,
    DROP COLUMN many_tails,
    DROP COLUMN tails,
    DROP COLUMN spacing,
    DROP COLUMN fence_offset,
    DROP COLUMN socket_depth,
    DROP COLUMN fence_zero

ALTER TABLE setup ADD CHECK (json_typeof(CAST(figures AS json)) = 'object' AND length(figures) <= 4000)

COMMENT ON COLUMN setup.figures IS 'what else the joint''s family fixes at the start, lengths in mm; one of them: figures::json ->> ''NAME'''

ALTER TABLE setup ADD CHECK (json_typeof(CAST(settings AS json)) = 'object' AND length(settings) <= 4000)

COMMENT ON COLUMN setup.settings IS 'first settings advised, mm; one of them: settings::json ->> ''NAME'''

ALTER TABLE setup ADD CHECK (json_typeof(CAST(zeros AS json)) = 'object' AND length(zeros) <= 4000)

COMMENT ON COLUMN setup.zeros IS 'zeros of the machine''s scales then, by part, mm, of those that have one; NULL: no machine; one of them: zeros::json ->> ''NAME'''

ALTER TABLE setup ADD CHECK ((machine_id IS NULL) = (zeros IS NULL))

ALTER TABLE setup ADD CHECK (length(in_play) BETWEEN 1 AND 1000)

ALTER TABLE advice DROP CONSTRAINT advice_bit_height_check

ALTER TABLE advice
    ALTER COLUMN bit_height TYPE text USING json_build_object('bit_height', bit_height, 'fence_offset', fence_offset, 'socket_depth', socket_depth)::text

ALTER TABLE advice RENAME COLUMN bit_height TO settings

ALTER TABLE advice
    DROP COLUMN fence_offset,
    DROP COLUMN socket_depth

ALTER TABLE advice ADD CHECK (json_typeof(CAST(settings AS json)) = 'object' AND length(settings) <= 4000)

COMMENT ON COLUMN advice.settings IS 'settings to set, mm; one of them: settings::json ->> ''NAME'''

ALTER TABLE trial_cut DROP CONSTRAINT trial_cut_check

ALTER TABLE trial_cut DROP CONSTRAINT trial_cut_check1

ALTER TABLE trial_cut DROP CONSTRAINT trial_cut_bit_height_check

ALTER TABLE trial_cut DROP CONSTRAINT trial_cut_height_stated_check

ALTER TABLE trial_cut DROP CONSTRAINT trial_cut_advised_height_check

ALTER TABLE trial_cut DROP CONSTRAINT trial_cut_scrap_width_check

ALTER TABLE trial_cut
    ALTER COLUMN bit_height TYPE text USING json_build_object('bit_height', bit_height, 'fence_offset', fence_offset, 'socket_depth', socket_depth)::text,
    ALTER COLUMN height_stated TYPE text USING concat_ws(',', CASE height_stated WHEN 1 THEN 'bit_height' END,
        CASE fence_stated WHEN 1 THEN 'fence_offset' END,
        CASE depth_stated WHEN 1 THEN 'socket_depth' END),
    ALTER COLUMN advised_height TYPE text USING CASE WHEN advised_height IS NOT NULL THEN json_build_object('bit_height', advised_height, 'fence_offset', advised_fence, 'socket_depth', advised_depth)::text END,
    ALTER COLUMN scrap_width TYPE text USING json_strip_nulls(json_build_object('width', scrap_width, 'thickness', scrap_thickness))::text

ALTER TABLE trial_cut RENAME COLUMN bit_height TO settings

ALTER TABLE trial_cut RENAME COLUMN height_stated TO stated

ALTER TABLE trial_cut RENAME COLUMN advised_height TO advised

ALTER TABLE trial_cut RENAME COLUMN scrap_width TO sizes

ALTER TABLE trial_cut
    DROP COLUMN fence_offset,
    DROP COLUMN socket_depth,
    DROP COLUMN fence_stated,
    DROP COLUMN depth_stated,
    DROP COLUMN advised_fence,
    DROP COLUMN advised_depth,
    DROP COLUMN scrap_thickness

ALTER TABLE trial_cut ALTER COLUMN sizes SET NOT NULL

ALTER TABLE trial_cut ADD COLUMN recut_of bigint CHECK (recut_of >= 1 AND recut_of < piece)

ALTER TABLE trial_cut ADD CHECK (json_typeof(CAST(settings AS json)) = 'object' AND length(settings) <= 4000)

ALTER TABLE trial_cut ADD CHECK (json_typeof(CAST(advised AS json)) = 'object' AND length(advised) <= 4000)

ALTER TABLE trial_cut ADD CHECK (json_typeof(CAST(sizes AS json)) = 'object' AND length(sizes) <= 4000)

ALTER TABLE trial_cut ADD CHECK (length(stated) BETWEEN 0 AND 1000)

COMMENT ON COLUMN trial_cut.settings IS 'settings used, mm; one of them: settings::json ->> ''NAME'''

COMMENT ON COLUMN trial_cut.stated IS 'those the user gave, with commas between; the others are from the advice'

COMMENT ON COLUMN trial_cut.advised IS 'settings advised for it, mm; NULL: not known; one of them: advised::json ->> ''NAME'''

COMMENT ON COLUMN trial_cut.recut_of IS 'piece whose end was cut again for this one; NULL: a fresh end'

COMMENT ON COLUMN trial_cut.sizes IS 'of this piece where they are not the set-up''s, mm; one of them: sizes::json ->> ''NAME'''

ALTER TABLE verdict DROP CONSTRAINT verdict_check

ALTER TABLE verdict DROP CONSTRAINT verdict_aspect_check

ALTER TABLE verdict DROP CONSTRAINT verdict_word_check

ALTER TABLE verdict ADD CHECK (length(trim(aspect)) BETWEEN 1 AND 60)

COMMENT ON COLUMN verdict.aspect IS 'what was judged; fault: a gap no setting cures'

ALTER TABLE verdict ADD CHECK (length(trim(word)) BETWEEN 1 AND 60)

COMMENT ON COLUMN verdict.word IS 'the word of the aspect, or the place of the gap'

ALTER TABLE reading DROP CONSTRAINT reading_check

ALTER TABLE reading DROP CONSTRAINT reading_check1

ALTER TABLE reading DROP CONSTRAINT reading_kind_check

ALTER TABLE reading ADD CHECK (length(trim(kind)) BETWEEN 1 AND 60)

ALTER TABLE reading ADD CHECK (rod IS NULL OR other IS NULL)

COMMENT ON COLUMN reading.value IS 'the reading, mm; of two the one at the fence'

COMMENT ON COLUMN reading.other IS 'the second reading, mm; NULL: only one'

ALTER TABLE found DROP CONSTRAINT found_check

ALTER TABLE found DROP CONSTRAINT found_bit_height_check

ALTER TABLE found
    ALTER COLUMN bit_height TYPE text USING json_strip_nulls(json_build_object('bit_height', bit_height, 'fence_offset', fence_offset, 'socket_depth', socket_depth))::text

ALTER TABLE found RENAME COLUMN bit_height TO settings

ALTER TABLE found
    DROP COLUMN fence_offset,
    DROP COLUMN socket_depth

ALTER TABLE found ALTER COLUMN settings SET NOT NULL

ALTER TABLE found ADD CHECK (json_typeof(CAST(settings AS json)) = 'object' AND length(settings) <= 4000)

ALTER TABLE found ADD CHECK (settings <> '{}')

COMMENT ON COLUMN found.settings IS 'settings found, those measured, mm; one of them: settings::json ->> ''NAME'''
