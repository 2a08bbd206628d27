-- Two loci on one chromosome, or two lines that look alike and may be one gene.
CREATE TABLE locus_pair (
  program_id uuid NOT NULL CONSTRAINT locus_pair_program_fkey REFERENCES program (id) ON DELETE CASCADE ON UPDATE CASCADE,
  id uuid NOT NULL,
  first_id uuid NOT NULL,
  second_id uuid NOT NULL,
  kind text NOT NULL CONSTRAINT locus_pair_kind_check CHECK (kind IN ('LINKED', 'ONE_GENE')),
  chance text NOT NULL,
  reason text,
  CONSTRAINT locus_pair_pkey PRIMARY KEY (program_id, id),
  CONSTRAINT locus_pair_order_check CHECK (first_id < second_id),
  CONSTRAINT locus_pair_first_fkey FOREIGN KEY (program_id, first_id) REFERENCES locus (program_id, id) ON DELETE RESTRICT ON UPDATE CASCADE,
  CONSTRAINT locus_pair_second_fkey FOREIGN KEY (program_id, second_id) REFERENCES locus (program_id, id) ON DELETE RESTRICT ON UPDATE CASCADE
);
CREATE UNIQUE INDEX locus_pair_once_key ON locus_pair (program_id, first_id, second_id);
CREATE INDEX locus_pair_second_idx ON locus_pair (program_id, second_id);
CALL protect_program_table('locus_pair');

-- How files with certain headings were read last time: proposed again, so no record of anybody's and without history.
CREATE TABLE kept_reading (
  program_id uuid NOT NULL CONSTRAINT kept_reading_program_fkey REFERENCES program (id) ON DELETE CASCADE ON UPDATE CASCADE,
  id uuid NOT NULL,
  headings text NOT NULL,
  map jsonb NOT NULL,
  at timestamptz(3) NOT NULL DEFAULT CURRENT_TIMESTAMP,
  CONSTRAINT kept_reading_pkey PRIMARY KEY (program_id, id)
);
CREATE UNIQUE INDEX kept_reading_headings_key ON kept_reading (program_id, headings);
CALL protect_program_table('kept_reading', false);
