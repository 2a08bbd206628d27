-- Large imports: most observations are of an animal and most stays too. An index that held every
-- row's empty clutch or lot cost as much to write as one that finds something.
DROP INDEX observation_clutch_idx;
CREATE INDEX observation_clutch_idx ON observation (program_id, clutch_id) WHERE clutch_id IS NOT NULL;
DROP INDEX observation_lot_idx;
CREATE INDEX observation_lot_idx ON observation (program_id, lot_id) WHERE lot_id IS NOT NULL;
DROP INDEX stay_lot_idx;
CREATE INDEX stay_lot_idx ON stay (program_id, lot_id) WHERE lot_id IS NOT NULL;
