-- Long work: jobs that outlive a request and a restart, and files that come in piece by piece.

CREATE TYPE job_state AS ENUM ('QUEUED', 'RUNNING', 'DONE', 'FAILED', 'CANCELLED');

-- Not of a program: whoever does the work must find it before any program's door is open.
-- Only the service itself reads it; the app role has no right to it.
CREATE TABLE job (
  id uuid CONSTRAINT job_pkey PRIMARY KEY,
  kind text NOT NULL,
  account_id uuid CONSTRAINT job_account_fkey REFERENCES account (id) ON DELETE CASCADE ON UPDATE CASCADE,
  program_id uuid CONSTRAINT job_program_fkey REFERENCES program (id) ON DELETE CASCADE ON UPDATE CASCADE,
  input jsonb NOT NULL,
  state job_state NOT NULL DEFAULT 'QUEUED',
  progress double precision NOT NULL DEFAULT 0 CONSTRAINT job_progress_check CHECK (progress BETWEEN 0 AND 1),
  sentence text NOT NULL DEFAULT '',
  result jsonb,
  error jsonb,
  cancel_asked boolean NOT NULL DEFAULT false,
  attempts integer NOT NULL DEFAULT 0,
  lease_until timestamptz(3),
  created_at timestamptz(3) NOT NULL DEFAULT CURRENT_TIMESTAMP,
  finished_at timestamptz(3)
);
CREATE INDEX job_open_idx ON job (created_at) WHERE state IN ('QUEUED', 'RUNNING');
CREATE INDEX job_kind_idx ON job (kind, created_at);
-- What the service starts by itself (backups) waits or runs once at a time, however many processes there are.
CREATE UNIQUE INDEX job_own_key ON job (kind) WHERE account_id IS NULL AND state IN ('QUEUED', 'RUNNING');

-- An uploaded file is of a program, or (an archive that is to become one) of an account alone.
DROP TABLE upload;
CREATE TABLE upload (
  id uuid CONSTRAINT upload_pkey PRIMARY KEY,
  account_id uuid NOT NULL CONSTRAINT upload_account_fkey REFERENCES account (id) ON DELETE CASCADE ON UPDATE CASCADE,
  program_id uuid CONSTRAINT upload_program_fkey REFERENCES program (id) ON DELETE CASCADE ON UPDATE CASCADE,
  name text NOT NULL,
  size bigint,
  at timestamptz(3) NOT NULL DEFAULT CURRENT_TIMESTAMP
);
CREATE TABLE upload_part (
  upload_id uuid NOT NULL CONSTRAINT upload_part_upload_fkey REFERENCES upload (id) ON DELETE CASCADE ON UPDATE CASCADE,
  part integer NOT NULL,
  bytes bytea NOT NULL,
  CONSTRAINT upload_part_pkey PRIMARY KEY (upload_id, part)
);
ALTER TABLE upload ENABLE ROW LEVEL SECURITY;
ALTER TABLE upload FORCE ROW LEVEL SECURITY;
CREATE POLICY of_program_or_account ON upload
  USING (CASE WHEN program_id IS NULL THEN account_id = (SELECT current_account()) ELSE program_id = (SELECT current_program()) END)
  WITH CHECK (CASE WHEN program_id IS NULL THEN account_id = (SELECT current_account()) ELSE program_id = (SELECT current_program()) END);
ALTER TABLE upload_part ENABLE ROW LEVEL SECURITY;
ALTER TABLE upload_part FORCE ROW LEVEL SECURITY;
CREATE POLICY of_upload ON upload_part
  USING (EXISTS (SELECT FROM upload WHERE id = upload_id)) WITH CHECK (EXISTS (SELECT FROM upload WHERE id = upload_id));
GRANT SELECT, INSERT, UPDATE, DELETE ON upload TO scutewright_app;
GRANT SELECT, INSERT, DELETE ON upload_part TO scutewright_app;
-- Compressed already, or soon gone: trying to compress it again only takes time.
ALTER TABLE upload_part ALTER COLUMN bytes SET STORAGE EXTERNAL;

-- Who did an act, by name, where an archive brought it here from another installation.
ALTER TABLE command ADD COLUMN by_name text;

-- Large imports: a row that hangs on an animal or a clutch of its program is of a program that
-- is there, and what the history writes is of the program of the transaction (its policy sees
-- to that); looking the program up once more for each row took a sixth of an import.
ALTER TABLE candidate DROP CONSTRAINT candidate_program_fkey;
ALTER TABLE stay DROP CONSTRAINT stay_program_fkey;
ALTER TABLE observation DROP CONSTRAINT observation_program_fkey;
ALTER TABLE change DROP CONSTRAINT change_program_fkey;

-- A program that comes back from an archive brings its own history: its rows come in without
-- being recorded as changes, but only into a program in which nothing was ever done.
-- OFFSET 0 keeps the planner from making each row's JSON anew for every place that reads it.
CREATE OR REPLACE FUNCTION record_change() RETURNS trigger LANGUAGE plpgsql AS $$
DECLARE
  command uuid := nullif(current_setting('app.command_id', true), '')::uuid;
  program uuid := current_program();
BEGIN
  IF TG_OP = 'INSERT' AND current_setting('app.restoring', true) = 'on' THEN
    IF NOT EXISTS (SELECT FROM command AS c WHERE c.program_id = program) THEN
      RETURN NULL;
    END IF;
  END IF;
  IF command IS NULL THEN
    RAISE EXCEPTION 'A change of % outside a command', TG_TABLE_NAME USING ERRCODE = 'SW001';
  END IF;
  IF TG_OP = 'INSERT' THEN
    INSERT INTO change (program_id, command_id, table_name, row_id, before, after)
    SELECT program, command, TG_TABLE_NAME, coalesce(a ->> 'id', a ->> 'account_id'), NULL, a
    FROM (SELECT to_jsonb(r) AS a FROM new_rows r OFFSET 0) AS rows;
  ELSIF TG_OP = 'DELETE' THEN
    INSERT INTO change (program_id, command_id, table_name, row_id, before, after)
    SELECT program, command, TG_TABLE_NAME, coalesce(b ->> 'id', b ->> 'account_id'), b, NULL
    FROM (SELECT to_jsonb(r) AS b FROM old_rows r OFFSET 0) AS rows;
  ELSE
    INSERT INTO change (program_id, command_id, table_name, row_id, before, after)
    SELECT program, command, TG_TABLE_NAME, coalesce(a ->> 'id', a ->> 'account_id'), b, a
    FROM (SELECT to_jsonb(r) AS a FROM new_rows r OFFSET 0) AS afters
    JOIN (SELECT to_jsonb(r) AS b FROM old_rows r OFFSET 0) AS befores
      ON coalesce(a ->> 'id', a ->> 'account_id') = coalesce(b ->> 'id', b ->> 'account_id')
    -- The revision counter moves with every command and is no change of anybody's records.
    WHERE a - 'revision' <> b - 'revision';
  END IF;
  RETURN NULL;
END $$;
