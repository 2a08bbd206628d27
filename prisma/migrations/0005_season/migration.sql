-- The season's records: clutches with their eggs, lots of unnamed young, who arrived and who left.

ALTER TABLE clutch
  ADD COLUMN species text,
  ADD COLUMN broken integer CONSTRAINT clutch_broken_check CHECK (broken BETWEEN 0 AND 1000),
  ADD COLUMN not_set integer CONSTRAINT clutch_not_set_check CHECK (not_set BETWEEN 0 AND 1000),
  ADD COLUMN pen_id uuid,
  ADD CONSTRAINT clutch_pen_fkey FOREIGN KEY (program_id, pen_id) REFERENCES pen (program_id, id) ON DELETE RESTRICT ON UPDATE CASCADE,
  ADD CONSTRAINT clutch_counts_check CHECK (coalesce(broken, 0) + coalesce(not_set, 0) <= coalesce(eggs, 2000));

CREATE TABLE egg_batch (
  program_id uuid NOT NULL CONSTRAINT egg_batch_program_fkey REFERENCES program (id) ON DELETE CASCADE ON UPDATE CASCADE,
  id uuid NOT NULL,
  clutch_id uuid NOT NULL,
  label text NOT NULL CONSTRAINT egg_batch_label_check CHECK (length(label) BETWEEN 1 AND 60),
  eggs integer NOT NULL CONSTRAINT egg_batch_eggs_check CHECK (eggs BETWEEN 1 AND 1000),
  set_on text,
  set_on_earliest date,
  set_on_latest date,
  CONSTRAINT egg_batch_pkey PRIMARY KEY (program_id, id),
  CONSTRAINT egg_batch_clutch_fkey FOREIGN KEY (program_id, clutch_id) REFERENCES clutch (program_id, id) ON DELETE RESTRICT ON UPDATE CASCADE
);
CREATE UNIQUE INDEX egg_batch_label_key ON egg_batch (program_id, clutch_id, label);
CALL protect_program_table('egg_batch');

CREATE TABLE lot (
  program_id uuid NOT NULL CONSTRAINT lot_program_fkey REFERENCES program (id) ON DELETE CASCADE ON UPDATE CASCADE,
  id uuid NOT NULL,
  code text NOT NULL CONSTRAINT lot_code_check CHECK (length(code) BETWEEN 1 AND 60),
  species text NOT NULL,
  notes text,
  CONSTRAINT lot_pkey PRIMARY KEY (program_id, id)
);
CREATE UNIQUE INDEX lot_code_key ON lot (program_id, code);
CALL protect_program_table('lot');

-- The book of a lot: what came in and what went out. Its count is the sum, so the book balances by itself.
CREATE TYPE lot_change_kind AS ENUM ('HATCHED', 'FOUND', 'BOUGHT', 'SPLIT', 'MERGED', 'PROMOTED', 'DIED', 'LOST', 'LEFT', 'COUNTED');
CREATE TABLE lot_change (
  program_id uuid NOT NULL CONSTRAINT lot_change_program_fkey REFERENCES program (id) ON DELETE CASCADE ON UPDATE CASCADE,
  id uuid NOT NULL,
  lot_id uuid NOT NULL,
  clutch_id uuid,
  kind lot_change_kind NOT NULL,
  count integer NOT NULL CONSTRAINT lot_change_count_check CHECK (count <> 0 AND count BETWEEN -10000 AND 10000),
  date text,
  date_earliest date,
  date_latest date,
  animal_id uuid,
  note text,
  CONSTRAINT lot_change_pkey PRIMARY KEY (program_id, id),
  CONSTRAINT lot_change_lot_fkey FOREIGN KEY (program_id, lot_id) REFERENCES lot (program_id, id) ON DELETE RESTRICT ON UPDATE CASCADE,
  CONSTRAINT lot_change_clutch_fkey FOREIGN KEY (program_id, clutch_id) REFERENCES clutch (program_id, id) ON DELETE RESTRICT ON UPDATE CASCADE,
  CONSTRAINT lot_change_animal_fkey FOREIGN KEY (program_id, animal_id) REFERENCES animal (program_id, id) ON DELETE RESTRICT ON UPDATE CASCADE
);
CREATE INDEX lot_change_lot_idx ON lot_change (program_id, lot_id);
CREATE INDEX lot_change_clutch_idx ON lot_change (program_id, clutch_id);
CALL protect_program_table('lot_change');

-- A young one found in the grass, or out of a dropped box: the clutches it may have hatched from.
CREATE TABLE possible_clutch (
  program_id uuid NOT NULL CONSTRAINT possible_clutch_program_fkey REFERENCES program (id) ON DELETE CASCADE ON UPDATE CASCADE,
  id uuid NOT NULL,
  animal_id uuid NOT NULL,
  clutch_id uuid NOT NULL,
  probability double precision NOT NULL CONSTRAINT possible_clutch_probability_check CHECK (probability > 0 AND probability <= 1),
  CONSTRAINT possible_clutch_pkey PRIMARY KEY (program_id, id),
  CONSTRAINT possible_clutch_animal_fkey FOREIGN KEY (program_id, animal_id) REFERENCES animal (program_id, id) ON DELETE RESTRICT ON UPDATE CASCADE,
  CONSTRAINT possible_clutch_clutch_fkey FOREIGN KEY (program_id, clutch_id) REFERENCES clutch (program_id, id) ON DELETE RESTRICT ON UPDATE CASCADE
);
CREATE UNIQUE INDEX possible_clutch_once_key ON possible_clutch (program_id, animal_id, clutch_id);
CALL protect_program_table('possible_clutch');

-- A lot stays in a pen as an animal does.
ALTER TABLE stay
  ALTER COLUMN animal_id DROP NOT NULL,
  ADD COLUMN lot_id uuid,
  ADD CONSTRAINT stay_who_check CHECK (num_nonnulls(animal_id, lot_id) = 1),
  ADD CONSTRAINT stay_lot_fkey FOREIGN KEY (program_id, lot_id) REFERENCES lot (program_id, id) ON DELETE RESTRICT ON UPDATE CASCADE;
CREATE INDEX stay_lot_idx ON stay (program_id, lot_id);

ALTER TABLE observation
  ADD COLUMN lot_id uuid,
  DROP CONSTRAINT observation_subject_check,
  ADD CONSTRAINT observation_subject_check CHECK (num_nonnulls(animal_id, clutch_id, pen_id, lot_id) >= 1),
  ADD CONSTRAINT observation_lot_fkey FOREIGN KEY (program_id, lot_id) REFERENCES lot (program_id, id) ON DELETE RESTRICT ON UPDATE CASCADE;
CREATE INDEX observation_lot_idx ON observation (program_id, lot_id);

-- Who an animal came from or went to: the only personal data, so without history and removable by itself.
CREATE TABLE contact (
  program_id uuid NOT NULL CONSTRAINT contact_program_fkey REFERENCES program (id) ON DELETE CASCADE ON UPDATE CASCADE,
  id uuid NOT NULL,
  name text NOT NULL CONSTRAINT contact_name_check CHECK (length(name) BETWEEN 1 AND 200),
  details text,
  CONSTRAINT contact_pkey PRIMARY KEY (program_id, id)
);
CREATE UNIQUE INDEX contact_name_key ON contact (program_id, name);
CALL protect_program_table('contact', false);

CREATE TYPE transfer_way AS ENUM ('BOUGHT', 'SOLD', 'GIVEN_AWAY', 'RECEIVED', 'LENT', 'CAME_BACK', 'BORROWED', 'SENT_BACK');
CREATE TABLE transfer (
  program_id uuid NOT NULL CONSTRAINT transfer_program_fkey REFERENCES program (id) ON DELETE CASCADE ON UPDATE CASCADE,
  id uuid NOT NULL,
  animal_id uuid,
  lot_id uuid,
  count integer NOT NULL DEFAULT 1 CONSTRAINT transfer_count_check CHECK (count BETWEEN 1 AND 10000),
  way transfer_way NOT NULL,
  date text,
  date_earliest date,
  date_latest date,
  -- No foreign key with a restriction: forgetting a person never waits for an animal's record.
  contact_id uuid,
  note text,
  CONSTRAINT transfer_pkey PRIMARY KEY (program_id, id),
  CONSTRAINT transfer_who_check CHECK (num_nonnulls(animal_id, lot_id) = 1),
  CONSTRAINT transfer_animal_fkey FOREIGN KEY (program_id, animal_id) REFERENCES animal (program_id, id) ON DELETE RESTRICT ON UPDATE CASCADE,
  CONSTRAINT transfer_lot_fkey FOREIGN KEY (program_id, lot_id) REFERENCES lot (program_id, id) ON DELETE RESTRICT ON UPDATE CASCADE
);
CREATE INDEX transfer_animal_idx ON transfer (program_id, animal_id);
CALL protect_program_table('transfer');

-- Yard entries that could not be written as they were sent; kept until somebody decides. Not yet a record of anybody's.
CREATE TABLE undecided_entry (
  program_id uuid NOT NULL CONSTRAINT undecided_entry_program_fkey REFERENCES program (id) ON DELETE CASCADE ON UPDATE CASCADE,
  id uuid NOT NULL,
  account_id uuid NOT NULL,
  entry jsonb NOT NULL,
  message text NOT NULL,
  remedy text NOT NULL,
  at timestamptz(3) NOT NULL DEFAULT CURRENT_TIMESTAMP,
  CONSTRAINT undecided_entry_pkey PRIMARY KEY (program_id, id)
);
CALL protect_program_table('undecided_entry', false);
