import {
  locusDefinitionSchema,
  penFeaturesSchema,
  speciesOverridesSchema,
  traitDefinitionSchema,
} from '@scutewright/commands';
import { at, positionsOf } from './positions.js';
import type { ProgramRows } from './program-rows.js';
import type { Snapshot } from './snapshot.js';

export function lociOf(rows: ProgramRows['loci']): Snapshot['loci'] {
  return rows.map(([id, code, name, definition]) => ({
    id,
    code,
    name,
    definition: locusDefinitionSchema.parse(definition),
  }));
}

export function locusPairsOf(
  rows: ProgramRows['locusPairs'],
  loci: ProgramRows['loci'],
): Snapshot['locusPairs'] {
  const locusAt = positionsOf(loci);
  return rows.map(([id, first, second, kind, chance, reason]) => ({
    id,
    first: at(locusAt, first),
    second: at(locusAt, second),
    kind,
    chance,
    reason,
  }));
}

export function traitsOf(rows: ProgramRows['traits']): Snapshot['traits'] {
  return rows.map(([id, name, definition]) => ({
    id,
    name,
    definition: traitDefinitionSchema.parse(definition),
  }));
}

export function pensOf(rows: ProgramRows['pens']): Snapshot['pens'] {
  return rows.map(([id, name, areaM2, isQuarantine, features]) => {
    const { list, ...plan } = penFeaturesSchema.parse(features);
    return { id, name, areaM2, isQuarantine, features: list, ...plan };
  });
}

export function speciesSettingsOf(
  rows: ProgramRows['speciesSettings'],
): Snapshot['speciesSettings'] {
  return new Map(
    rows.map(([species, overrides]) => [species, speciesOverridesSchema.parse(overrides)]),
  );
}
