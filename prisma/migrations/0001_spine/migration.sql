-- The spine: accounts, programs, animals with their clutches and candidates, definitions,
-- pens, observations, and the history of every change.

-- The role in which every program's rows are read and written. It owns nothing and cannot
-- sign in; the service takes it on for one transaction at a time.
DO $$
BEGIN
  IF NOT EXISTS (SELECT FROM pg_roles WHERE rolname = 'scutewright_app') THEN
    CREATE ROLE scutewright_app NOLOGIN NOSUPERUSER NOBYPASSRLS NOCREATEDB NOCREATEROLE;
  END IF;
  IF NOT pg_has_role(current_user, 'scutewright_app', 'SET') THEN
    EXECUTE format('GRANT scutewright_app TO %I WITH SET TRUE, INHERIT FALSE', current_user);
  END IF;
END $$;
GRANT USAGE ON SCHEMA public TO scutewright_app;

CREATE TYPE role AS ENUM ('READER', 'KEEPER', 'OWNER');
CREATE TYPE origin AS ENUM ('HATCHED_HERE', 'ACQUIRED', 'ANCESTOR_ONLY');
CREATE TYPE paternity AS ENUM ('ONE_SIRE', 'EACH_OWN_SIRE', 'MIXED', 'TWO_SIRES');
CREATE TYPE parent_kind AS ENUM ('SIRE', 'DAM');
CREATE TYPE candidate_basis AS ENUM ('OBSERVED', 'HOUSED_TOGETHER', 'TESTED', 'DECLARED', 'ASSUMED', 'BY_HAND');

-- Not of a program -----------------------------------------------------------------------

CREATE TABLE account (
  id uuid CONSTRAINT account_pkey PRIMARY KEY,
  email text NOT NULL,
  name text NOT NULL,
  password_hash text,
  created_at timestamptz(3) NOT NULL DEFAULT CURRENT_TIMESTAMP
);
CREATE UNIQUE INDEX account_email_key ON account (email);

CREATE TABLE session (
  secret_hash bytea CONSTRAINT session_pkey PRIMARY KEY,
  account_id uuid NOT NULL CONSTRAINT session_account_fkey REFERENCES account (id) ON DELETE CASCADE ON UPDATE CASCADE,
  created_at timestamptz(3) NOT NULL DEFAULT CURRENT_TIMESTAMP,
  expires_at timestamptz(3) NOT NULL
);
CREATE INDEX session_account_idx ON session (account_id);

-- Programs -------------------------------------------------------------------------------

CREATE TABLE program (
  id uuid CONSTRAINT program_pkey PRIMARY KEY,
  name text NOT NULL CONSTRAINT program_name_check CHECK (length(name) BETWEEN 1 AND 120),
  revision integer NOT NULL DEFAULT 0,
  is_demo boolean NOT NULL DEFAULT false,
  settings jsonb NOT NULL DEFAULT '{}',
  created_at timestamptz(3) NOT NULL DEFAULT CURRENT_TIMESTAMP
);

CREATE TABLE invitation (
  secret_hash bytea CONSTRAINT invitation_pkey PRIMARY KEY,
  program_id uuid CONSTRAINT invitation_program_fkey REFERENCES program (id) ON DELETE CASCADE ON UPDATE CASCADE,
  account_id uuid CONSTRAINT invitation_account_fkey REFERENCES account (id) ON DELETE CASCADE ON UPDATE CASCADE,
  role role,
  created_at timestamptz(3) NOT NULL DEFAULT CURRENT_TIMESTAMP,
  expires_at timestamptz(3) NOT NULL,
  used_at timestamptz(3),
  CONSTRAINT invitation_purpose_check CHECK ((program_id IS NULL) = (role IS NULL))
);

CREATE TABLE member (
  program_id uuid NOT NULL CONSTRAINT member_program_fkey REFERENCES program (id) ON DELETE CASCADE ON UPDATE CASCADE,
  account_id uuid NOT NULL CONSTRAINT member_account_fkey REFERENCES account (id) ON DELETE CASCADE ON UPDATE CASCADE,
  role role NOT NULL,
  created_at timestamptz(3) NOT NULL DEFAULT CURRENT_TIMESTAMP,
  CONSTRAINT member_pkey PRIMARY KEY (program_id, account_id)
);
CREATE INDEX member_account_idx ON member (account_id);

CREATE TABLE command (
  program_id uuid NOT NULL CONSTRAINT command_program_fkey REFERENCES program (id) ON DELETE CASCADE ON UPDATE CASCADE,
  id uuid NOT NULL,
  account_id uuid,
  kind text NOT NULL,
  sentence text NOT NULL,
  revision integer NOT NULL,
  undoes uuid,
  result jsonb NOT NULL DEFAULT '{}',
  at timestamptz(3) NOT NULL DEFAULT CURRENT_TIMESTAMP,
  CONSTRAINT command_pkey PRIMARY KEY (program_id, id)
);
CREATE INDEX command_revision_idx ON command (program_id, revision);

CREATE TABLE change (
  program_id uuid NOT NULL CONSTRAINT change_program_fkey REFERENCES program (id) ON DELETE CASCADE ON UPDATE CASCADE,
  id bigserial NOT NULL,
  command_id uuid NOT NULL,
  table_name text NOT NULL,
  row_id text NOT NULL,
  before jsonb,
  after jsonb,
  CONSTRAINT change_pkey PRIMARY KEY (program_id, id)
);
CREATE INDEX change_command_idx ON change (program_id, command_id);
CREATE INDEX change_row_idx ON change (program_id, row_id);

-- Animals --------------------------------------------------------------------------------

CREATE TABLE clutch (
  program_id uuid NOT NULL CONSTRAINT clutch_program_fkey REFERENCES program (id) ON DELETE CASCADE ON UPDATE CASCADE,
  id uuid NOT NULL,
  code text CONSTRAINT clutch_code_check CHECK (length(code) BETWEEN 1 AND 60),
  laid text,
  laid_earliest date,
  laid_latest date,
  eggs integer CONSTRAINT clutch_eggs_check CHECK (eggs BETWEEN 0 AND 1000),
  paternity paternity NOT NULL DEFAULT 'ONE_SIRE',
  paternity_rate double precision CONSTRAINT clutch_paternity_rate_check CHECK (paternity_rate BETWEEN 0 AND 1),
  notes text,
  CONSTRAINT clutch_pkey PRIMARY KEY (program_id, id),
  CONSTRAINT clutch_laid_check CHECK (laid_earliest <= laid_latest)
);
CREATE UNIQUE INDEX clutch_code_key ON clutch (program_id, code);

CREATE TABLE animal (
  program_id uuid NOT NULL CONSTRAINT animal_program_fkey REFERENCES program (id) ON DELETE CASCADE ON UPDATE CASCADE,
  id uuid NOT NULL,
  code text NOT NULL CONSTRAINT animal_code_check CHECK (length(code) BETWEEN 1 AND 60),
  name text,
  species text NOT NULL,
  origin origin NOT NULL DEFAULT 'HATCHED_HERE',
  clutch_id uuid,
  hatched text,
  hatched_earliest date,
  hatched_latest date,
  notes text,
  CONSTRAINT animal_pkey PRIMARY KEY (program_id, id),
  CONSTRAINT animal_hatched_check CHECK (hatched_earliest <= hatched_latest),
  CONSTRAINT animal_clutch_fkey FOREIGN KEY (program_id, clutch_id) REFERENCES clutch (program_id, id) ON DELETE RESTRICT ON UPDATE CASCADE
);
CREATE UNIQUE INDEX animal_code_key ON animal (program_id, code);
CREATE INDEX animal_clutch_idx ON animal (program_id, clutch_id);

CREATE TABLE candidate (
  program_id uuid NOT NULL CONSTRAINT candidate_program_fkey REFERENCES program (id) ON DELETE CASCADE ON UPDATE CASCADE,
  id uuid NOT NULL,
  clutch_id uuid NOT NULL,
  parent parent_kind NOT NULL,
  animal_id uuid NOT NULL,
  probability double precision NOT NULL CONSTRAINT candidate_probability_check CHECK (probability > 0 AND probability <= 1),
  basis candidate_basis NOT NULL,
  reason text,
  CONSTRAINT candidate_pkey PRIMARY KEY (program_id, id),
  CONSTRAINT candidate_clutch_fkey FOREIGN KEY (program_id, clutch_id) REFERENCES clutch (program_id, id) ON DELETE RESTRICT ON UPDATE CASCADE,
  CONSTRAINT candidate_animal_fkey FOREIGN KEY (program_id, animal_id) REFERENCES animal (program_id, id) ON DELETE RESTRICT ON UPDATE CASCADE
);
CREATE UNIQUE INDEX candidate_once_key ON candidate (program_id, clutch_id, parent, animal_id);
CREATE INDEX candidate_animal_idx ON candidate (program_id, animal_id);

-- Definitions ----------------------------------------------------------------------------

CREATE TABLE locus (
  program_id uuid NOT NULL CONSTRAINT locus_program_fkey REFERENCES program (id) ON DELETE CASCADE ON UPDATE CASCADE,
  id uuid NOT NULL,
  code text NOT NULL,
  name text NOT NULL,
  definition jsonb NOT NULL,
  CONSTRAINT locus_pkey PRIMARY KEY (program_id, id)
);
CREATE UNIQUE INDEX locus_code_key ON locus (program_id, code);

CREATE TABLE trait (
  program_id uuid NOT NULL CONSTRAINT trait_program_fkey REFERENCES program (id) ON DELETE CASCADE ON UPDATE CASCADE,
  id uuid NOT NULL,
  code text NOT NULL,
  name text NOT NULL,
  definition jsonb NOT NULL,
  CONSTRAINT trait_pkey PRIMARY KEY (program_id, id)
);
CREATE UNIQUE INDEX trait_code_key ON trait (program_id, code);

CREATE TABLE species_setting (
  program_id uuid NOT NULL CONSTRAINT species_setting_program_fkey REFERENCES program (id) ON DELETE CASCADE ON UPDATE CASCADE,
  id uuid NOT NULL,
  species text NOT NULL,
  overrides jsonb NOT NULL,
  reason text NOT NULL,
  CONSTRAINT species_setting_pkey PRIMARY KEY (program_id, id)
);
CREATE UNIQUE INDEX species_setting_species_key ON species_setting (program_id, species);

-- Pens -----------------------------------------------------------------------------------

CREATE TABLE pen (
  program_id uuid NOT NULL CONSTRAINT pen_program_fkey REFERENCES program (id) ON DELETE CASCADE ON UPDATE CASCADE,
  id uuid NOT NULL,
  name text NOT NULL CONSTRAINT pen_name_check CHECK (length(name) BETWEEN 1 AND 60),
  area_m2 double precision CONSTRAINT pen_area_check CHECK (area_m2 > 0),
  is_quarantine boolean NOT NULL DEFAULT false,
  features jsonb NOT NULL DEFAULT '{}',
  CONSTRAINT pen_pkey PRIMARY KEY (program_id, id)
);
CREATE UNIQUE INDEX pen_name_key ON pen (program_id, name);

CREATE TABLE stay (
  program_id uuid NOT NULL CONSTRAINT stay_program_fkey REFERENCES program (id) ON DELETE CASCADE ON UPDATE CASCADE,
  id uuid NOT NULL,
  animal_id uuid NOT NULL,
  pen_id uuid NOT NULL,
  "from" text,
  from_earliest date,
  from_latest date,
  "to" text,
  to_earliest date,
  to_latest date,
  CONSTRAINT stay_pkey PRIMARY KEY (program_id, id),
  CONSTRAINT stay_order_check CHECK (from_earliest <= to_latest),
  CONSTRAINT stay_animal_fkey FOREIGN KEY (program_id, animal_id) REFERENCES animal (program_id, id) ON DELETE RESTRICT ON UPDATE CASCADE,
  CONSTRAINT stay_pen_fkey FOREIGN KEY (program_id, pen_id) REFERENCES pen (program_id, id) ON DELETE RESTRICT ON UPDATE CASCADE
);
CREATE INDEX stay_animal_idx ON stay (program_id, animal_id);
CREATE INDEX stay_pen_idx ON stay (program_id, pen_id);

-- Observations ---------------------------------------------------------------------------

CREATE TABLE observation (
  program_id uuid NOT NULL CONSTRAINT observation_program_fkey REFERENCES program (id) ON DELETE CASCADE ON UPDATE CASCADE,
  id uuid NOT NULL,
  kind text NOT NULL,
  animal_id uuid,
  clutch_id uuid,
  pen_id uuid,
  trait_id uuid,
  locus_id uuid,
  other_animal_id uuid,
  date text,
  date_earliest date,
  date_latest date,
  method text,
  observer text,
  value jsonb NOT NULL,
  note text,
  CONSTRAINT observation_pkey PRIMARY KEY (program_id, id),
  CONSTRAINT observation_subject_check CHECK (num_nonnulls(animal_id, clutch_id, pen_id) >= 1),
  CONSTRAINT observation_animal_fkey FOREIGN KEY (program_id, animal_id) REFERENCES animal (program_id, id) ON DELETE RESTRICT ON UPDATE CASCADE,
  CONSTRAINT observation_other_animal_fkey FOREIGN KEY (program_id, other_animal_id) REFERENCES animal (program_id, id) ON DELETE RESTRICT ON UPDATE CASCADE,
  CONSTRAINT observation_clutch_fkey FOREIGN KEY (program_id, clutch_id) REFERENCES clutch (program_id, id) ON DELETE RESTRICT ON UPDATE CASCADE,
  CONSTRAINT observation_pen_fkey FOREIGN KEY (program_id, pen_id) REFERENCES pen (program_id, id) ON DELETE RESTRICT ON UPDATE CASCADE,
  CONSTRAINT observation_trait_fkey FOREIGN KEY (program_id, trait_id) REFERENCES trait (program_id, id) ON DELETE RESTRICT ON UPDATE CASCADE,
  CONSTRAINT observation_locus_fkey FOREIGN KEY (program_id, locus_id) REFERENCES locus (program_id, id) ON DELETE RESTRICT ON UPDATE CASCADE
);
CREATE INDEX observation_animal_idx ON observation (program_id, animal_id);
CREATE INDEX observation_clutch_idx ON observation (program_id, clutch_id);
CREATE INDEX observation_kind_idx ON observation (program_id, kind);

-- History: the database writes it, nobody can forget to -----------------------------------

CREATE FUNCTION record_change() RETURNS trigger LANGUAGE plpgsql AS $$
DECLARE
  command uuid := nullif(current_setting('app.command_id', true), '')::uuid;
BEGIN
  IF command IS NULL THEN
    RAISE EXCEPTION 'A change of % outside a command', TG_TABLE_NAME USING ERRCODE = 'SW001';
  END IF;
  IF TG_OP = 'INSERT' THEN
    INSERT INTO change (program_id, command_id, table_name, row_id, before, after)
    SELECT coalesce(a ->> 'program_id', a ->> 'id')::uuid, command, TG_TABLE_NAME, coalesce(a ->> 'id', a ->> 'account_id'), NULL, a
    FROM (SELECT to_jsonb(r) AS a FROM new_rows r) AS rows;
  ELSIF TG_OP = 'DELETE' THEN
    INSERT INTO change (program_id, command_id, table_name, row_id, before, after)
    SELECT coalesce(b ->> 'program_id', b ->> 'id')::uuid, command, TG_TABLE_NAME, coalesce(b ->> 'id', b ->> 'account_id'), b, NULL
    FROM (SELECT to_jsonb(r) AS b FROM old_rows r) AS rows;
  ELSE
    INSERT INTO change (program_id, command_id, table_name, row_id, before, after)
    SELECT coalesce(a ->> 'program_id', a ->> 'id')::uuid, command, TG_TABLE_NAME, coalesce(a ->> 'id', a ->> 'account_id'), b, a
    FROM (SELECT to_jsonb(r) AS a FROM new_rows r) AS afters
    JOIN (SELECT to_jsonb(r) AS b FROM old_rows r) AS befores
      ON coalesce(a ->> 'id', a ->> 'account_id') = coalesce(b ->> 'id', b ->> 'account_id')
      AND (a ->> 'program_id') IS NOT DISTINCT FROM (b ->> 'program_id')
    -- The revision counter moves with every command and is no change of anybody's records.
    WHERE a - 'revision' <> b - 'revision';
  END IF;
  RETURN NULL;
END $$;

-- Protection -----------------------------------------------------------------------------

CREATE FUNCTION current_program() RETURNS uuid LANGUAGE sql STABLE PARALLEL SAFE AS
$$ SELECT nullif(current_setting('app.program_id', true), '')::uuid $$;
CREATE FUNCTION current_account() RETURNS uuid LANGUAGE sql STABLE PARALLEL SAFE AS
$$ SELECT nullif(current_setting('app.account_id', true), '')::uuid $$;

-- Every table of a program: forced row-level security by the program of the transaction,
-- rights for the app role, and the change trigger. Later migrations call it for new tables.
CREATE PROCEDURE protect_program_table(table_name text, with_history boolean DEFAULT true) LANGUAGE plpgsql AS $$
BEGIN
  EXECUTE format('ALTER TABLE %I ENABLE ROW LEVEL SECURITY', table_name);
  EXECUTE format('ALTER TABLE %I FORCE ROW LEVEL SECURITY', table_name);
  EXECUTE format('CREATE POLICY of_program ON %I USING (program_id = (SELECT current_program())) WITH CHECK (program_id = (SELECT current_program()))', table_name);
  EXECUTE format('GRANT SELECT, INSERT, UPDATE, DELETE ON %I TO scutewright_app', table_name);
  IF with_history THEN
    CALL keep_history(table_name);
  END IF;
END $$;

CREATE PROCEDURE keep_history(table_name text) LANGUAGE plpgsql AS $$
BEGIN
  EXECUTE format('CREATE TRIGGER history_of_insert AFTER INSERT ON %I REFERENCING NEW TABLE AS new_rows FOR EACH STATEMENT EXECUTE FUNCTION record_change()', table_name);
  EXECUTE format('CREATE TRIGGER history_of_update AFTER UPDATE ON %I REFERENCING OLD TABLE AS old_rows NEW TABLE AS new_rows FOR EACH STATEMENT EXECUTE FUNCTION record_change()', table_name);
  EXECUTE format('CREATE TRIGGER history_of_delete AFTER DELETE ON %I REFERENCING OLD TABLE AS old_rows FOR EACH STATEMENT EXECUTE FUNCTION record_change()', table_name);
END $$;

CALL protect_program_table('clutch');
CALL protect_program_table('animal');
CALL protect_program_table('candidate');
CALL protect_program_table('locus');
CALL protect_program_table('trait');
CALL protect_program_table('species_setting');
CALL protect_program_table('pen');
CALL protect_program_table('stay');
CALL protect_program_table('observation');
CALL protect_program_table('command', false);
CALL protect_program_table('change', false);
-- The history is written, never rewritten.
REVOKE UPDATE, DELETE ON change FROM scutewright_app;
REVOKE DELETE ON command FROM scutewright_app;
GRANT USAGE ON SEQUENCE change_id_seq TO scutewright_app;

-- A person sees the memberships that are theirs, and all members of the program they are in.
ALTER TABLE member ENABLE ROW LEVEL SECURITY;
ALTER TABLE member FORCE ROW LEVEL SECURITY;
CREATE POLICY of_program ON member USING (program_id = (SELECT current_program())) WITH CHECK (program_id = (SELECT current_program()));
CREATE POLICY of_account ON member FOR SELECT USING (account_id = (SELECT current_account()));
GRANT SELECT, INSERT, UPDATE, DELETE ON member TO scutewright_app;
CALL keep_history('member');

ALTER TABLE program ENABLE ROW LEVEL SECURITY;
ALTER TABLE program FORCE ROW LEVEL SECURITY;
CREATE POLICY of_program ON program USING (id = (SELECT current_program())) WITH CHECK (id = (SELECT current_program()));
CREATE POLICY of_account ON program FOR SELECT USING (id IN (SELECT program_id FROM member WHERE account_id = (SELECT current_account())));
GRANT SELECT, INSERT, UPDATE ON program TO scutewright_app;
CALL keep_history('program');
