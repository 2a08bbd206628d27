-- Photographs of animals. What is said of one has a history; its bytes have none, so that taking
-- one away and bringing it back moves no picture through the change log. They stay for a while
-- after it was taken away (`PhotoCommands`).
CREATE TABLE photo_file (
  program_id uuid NOT NULL CONSTRAINT photo_file_program_fkey REFERENCES program (id) ON DELETE CASCADE ON UPDATE CASCADE,
  id uuid NOT NULL,
  type text NOT NULL CONSTRAINT photo_file_type_check CHECK (type IN ('image/jpeg', 'image/png', 'image/webp')),
  size integer NOT NULL CONSTRAINT photo_file_size_check CHECK (size BETWEEN 1 AND 5242880),
  bytes bytea NOT NULL CONSTRAINT photo_file_bytes_check CHECK (octet_length(bytes) = size),
  removed_at timestamptz(3),
  CONSTRAINT photo_file_pkey PRIMARY KEY (program_id, id)
);
-- Compressed already: trying to compress it again only takes time.
ALTER TABLE photo_file ALTER COLUMN bytes SET STORAGE EXTERNAL;
CALL protect_program_table('photo_file', false);

CREATE TABLE photo (
  program_id uuid NOT NULL CONSTRAINT photo_program_fkey REFERENCES program (id) ON DELETE CASCADE ON UPDATE CASCADE,
  id uuid NOT NULL,
  animal_id uuid NOT NULL,
  date text,
  date_earliest date,
  date_latest date,
  caption text CONSTRAINT photo_caption_check CHECK (length(caption) BETWEEN 1 AND 300),
  CONSTRAINT photo_pkey PRIMARY KEY (program_id, id),
  CONSTRAINT photo_file_fkey FOREIGN KEY (program_id, id) REFERENCES photo_file (program_id, id) ON DELETE RESTRICT ON UPDATE CASCADE,
  CONSTRAINT photo_animal_fkey FOREIGN KEY (program_id, animal_id) REFERENCES animal (program_id, id) ON DELETE RESTRICT ON UPDATE CASCADE
);
CREATE INDEX photo_animal_idx ON photo (program_id, animal_id);
CALL protect_program_table('photo');
