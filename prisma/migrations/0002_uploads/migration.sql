-- Files people have sent but not yet brought in. Kept for a day.
CREATE TABLE upload (
  program_id uuid NOT NULL CONSTRAINT upload_program_fkey REFERENCES program (id) ON DELETE CASCADE ON UPDATE CASCADE,
  id uuid NOT NULL,
  name text NOT NULL,
  bytes bytea NOT NULL,
  at timestamptz(3) NOT NULL DEFAULT CURRENT_TIMESTAMP,
  CONSTRAINT upload_pkey PRIMARY KEY (program_id, id)
);
CALL protect_program_table('upload', false);
