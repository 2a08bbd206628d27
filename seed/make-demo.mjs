// Makes the demo program: true genotypes are drawn and handed down, then only what a keeper would know is written.
// Everything is invented. `node seed/make-demo.mjs` writes saltmarsh-group.csv; the same seed gives the same file.
import { readFileSync, writeFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import { parsePartialDate, seededRandom } from '@scutewright/basics';
import { writeProgramFile } from '@scutewright/commands';
import { ERAS, FOUNDERS, NAMES } from './demo-story.mjs';

const SEED = 199;
const NOW = 2025;
const MALE_MATURE = 9;
const FEMALE_MATURE = 11;
/** Years in which a female may still lay from stored sperm; see the species facts that ship with the software. */
const STORED_YEARS = 3;

const definitions = JSON.parse(readFileSync(new URL('definitions.json', import.meta.url), 'utf8'));

/** Grown animals that no pen was found for went away. */
const LEAVING_AGE = 12;

export function makeDemo(seed = SEED) {
  const random = seededRandom(seed);
  const chance = (p) => random.next() < p;
  const pick = (list) => list[random.below(list.length)];
  const animals = FOUNDERS.map(([name, sex, hatched, genotype, notes, declared]) => ({
    ...{
      name,
      sex,
      hatched,
      genotype: genotype.split(' '),
      notes,
      declared,
      year: Number(hatched.slice(0, 4)),
    },
    ...{ sires: [], dam: null, clutch: null, isFounder: true, home: null, isKept: true },
  }));
  const names = [...NAMES];
  const homes = new Map();
  const laid = [];

  const nameIfNeeded = (animal) => {
    if (!animal.name && names.length > 0) animal.name = names.shift();
    return animal;
  };
  const isAdult = (animal, year) =>
    year - animal.year >= (animal.sex === 'm' ? MALE_MATURE : FEMALE_MATURE);
  const choose = (wanted, sex, year) => {
    if (typeof wanted === 'string') return animals.find((animal) => animal.name === wanted);
    const free = animals.filter(
      (animal) =>
        animal.sex === sex && animal.isKept && isAdult(animal, year) && !isPlaced(animal, year),
    );
    const fits = free.filter((animal) => {
      if (wanted.of) return animal.dam?.name === wanted.of;
      if (wanted.shows) return looks(animal.genotype).includes(wanted.shows);
      return (
        animal.genotype[wanted.near === 'chalk' ? 0 : 1] !== 'NN' &&
        looks(animal.genotype).length === 0
      );
    });
    return fits.length > 0
      ? nameIfNeeded(pick(fits))
      : free.length > 0
        ? nameIfNeeded(pick(free))
        : null;
  };
  const isPlaced = (animal, year) => {
    const stays = homes.get(animal) ?? [];
    return stays.length > 0 && stays.at(-1).from === year;
  };
  const place = (animal, pen, year) => {
    if (!animal || isPlaced(animal, year)) return;
    homes.set(animal, [...(homes.get(animal) ?? []), { pen, from: year }]);
  };
  const stayIn = (animal, year) => (homes.get(animal) ?? []).findLast((stay) => stay.from <= year);
  const malesIn = (pen, year) =>
    animals.filter((animal) => animal.sex === 'm' && stayIn(animal, year)?.pen === pen);

  for (let year = 1986; year <= NOW; year++) {
    const starting = ERAS.filter((era) => era.from === year);
    const emptied = new Set(starting.map((era) => era.pen));
    for (const [animal] of homes) {
      // A pen that is set up anew lets its former animals go to the Boathouse or away.
      if (emptied.has(stayIn(animal, year)?.pen))
        homes.get(animal).push({ pen: null, from: year - 0.5 });
    }
    for (const { pen, males, females } of starting) {
      for (const wanted of males) place(choose(wanted, 'm', year), pen, year);
      for (const wanted of females) place(choose(wanted, 'f', year), pen, year);
    }
    const layers = animals.filter(
      (animal) => animal.sex === 'f' && isAdult(animal, year) && stayIn(animal, year)?.pen,
    );
    let number = 0;
    for (const dam of layers) {
      const isAlone = malesIn(stayIn(dam, year).pen, year).length === 0;
      if (!chance(isAlone ? 0.7 : year < 1992 ? 0.2 : 0.22)) continue;
      const candidates = possibleSires(dam, year);
      if (candidates.length === 0) continue;
      const sire = drawSire(candidates);
      number++;
      hatch(sire, dam, candidates, year, number);
    }
  }

  function possibleSires(dam, year) {
    const here = stayIn(dam, year);
    const housed = malesIn(here.pen, year).filter((male) => isAdult(male, year));
    const earlier = (homes.get(dam) ?? [])
      .filter((stay) => stay.pen && stay.from < here.from)
      .at(-1);
    const stored =
      earlier && year - here.from < STORED_YEARS
        ? malesIn(earlier.pen, here.from - 1).filter((male) => isAdult(male, here.from - 1))
        : [];
    const strangers = stored.filter((male) => !housed.includes(male));
    const forStored = housed.length === 0 ? 0.95 : strangers.length > 0 ? 0.15 : 0;
    const share = (males, total) =>
      males.map((animal) => ({ animal, p: Math.floor((total / males.length) * 100) / 100 }));
    if (housed.length === 1 && strangers.length === 0) return [{ animal: housed[0], p: null }];
    return [...share(housed, 0.95 - forStored), ...share(strangers, forStored)].filter(
      ({ p }) => p > 0,
    );
  }

  function drawSire(candidates) {
    const total = candidates.reduce((sum, { p }) => sum + (p ?? 1), 0);
    let left = random.next() * total;
    for (const { animal, p } of candidates) {
      left -= p ?? 1;
      if (left <= 0) return animal;
    }
    return candidates[0].animal;
  }

  function hatch(sire, dam, candidates, year, number) {
    const clutch = `SG${year}/${number}`;
    const isStored = candidates.length > 0 && malesIn(stayIn(dam, year).pen, year).length === 0;
    const day = `${year}-0${8 + random.below(2)}-${String(1 + random.below(28)).padStart(2, '0')}`;
    const hatched = year < 1996 ? String(year) : chance(0.2) ? day.slice(0, 7) : day;
    const young = 1 + random.below(4);
    for (let i = 0; i < young; i++) {
      const genotype = sire.genotype.map((pair, locus) => cross(pair, dam.genotype[locus]));
      // An animal pale in both ways could not be told by looking: none is kept in this story.
      if (genotype[0] === 'cc' && genotype[1] === 'bb') continue;
      animals.push({
        ...{
          name: null,
          sex: chance(0.5) ? 'm' : 'f',
          hatched,
          genotype,
          year,
          sires: candidates,
          dam,
          clutch,
        },
        ...{
          isFounder: false,
          declared: undefined,
          isKept: year === NOW || looks(genotype).length > 0 || chance(0.5),
        },
        notes: isStored ? 'Mother was without a male: laid from stored sperm.' : '',
      });
    }
    laid.push(clutch);
  }

  function cross(a, b) {
    const alleles = [a[random.below(2)], b[random.below(2)]].sort();
    return alleles[0] === 'N'
      ? alleles.join('')
      : alleles
          .reverse()
          .join('')
          .replace(/^(.)N$/, 'N$1');
  }

  const codes = new Map(
    animals.map((animal, i) => [animal, `SG-${String(i + 1).padStart(3, '0')}`]),
  );
  const bred = new Set(
    animals.flatMap(({ sires, dam }) => [...sires.map((each) => each.animal), dam]),
  );
  return writeProgramFile(animals.map(asKeeperKnows), { formulaSafe: false });

  function asKeeperKnows(animal) {
    const age = NOW - animal.year;
    const isHere = animal.isKept || bred.has(animal);
    const lastAge = isHere ? age : 1;
    const isSexed = animal.isFounder || bred.has(animal) || lastAge >= 6;
    const lengthMm = Math.round(
      (animal.sex === 'm' ? 148 : 176) * (1 - 0.8 * Math.exp(-0.13 * age)) + random.below(7),
    );
    const stay = stayIn(animal, NOW);
    const isGone = isHere && age >= LEAVING_AGE && !stay?.pen;
    const isMeasured = isHere && !isGone && age > 0;
    return {
      code: codes.get(animal),
      name: animal.name,
      species: definitions.program.species,
      sex: isSexed ? animal.sex : null,
      hatched: parsePartialDate(animal.hatched),
      sires: animal.sires.map(({ animal: sire, p }) => ({ code: codes.get(sire), probability: p })),
      dams: animal.dam ? [{ code: codes.get(animal.dam), probability: null }] : [],
      clutch: animal.clutch,
      traits: seen(animal.genotype, lastAge, animal.isFounder || chance(0.75)),
      absent: [],
      genotype: animal.declared
        ? animal.declared
            .split(';')
            .map((text) => ({ locus: text.split('=')[0], alleles: text.split('=')[1].split('/') }))
        : [],
      pen: !isHere || isGone ? null : (stay?.pen ?? penByAge(animal, age)),
      sclMm: isMeasured ? lengthMm : null,
      massG: isMeasured ? Math.round(1.8e-4 * lengthMm ** 3 * (0.94 + 0.12 * random.next())) : null,
      notes:
        animal.notes ||
        (isHere ? (isGone ? goneNote(animal) : null) : `Left the group in ${animal.year + 1}.`),
    };
  }

  function penByAge(animal, age) {
    if (age < 5) return 'Nursery frame';
    return animal.sex === 'm' ? 'Dyke bed' : 'Willow strip';
  }

  function goneNote(animal) {
    return bred.has(animal) ? 'No longer with the group.' : 'Went to another group as an adult.';
  }
}

/** What an animal of full age shows. */
function looks([chalk, brine, sedge]) {
  const shown = [];
  if (chalk === 'cc') shown.push('chalk');
  if (brine === 'bb') shown.push('brine');
  if (sedge === 'NS') shown.push('sedge');
  if (sedge === 'SS') shown.push('double sedge');
  return shown;
}

/** What was written of it: keepers remember pale ones, and not always that a plain one was looked at. */
function seen(genotype, age, isLookedAt) {
  const shown = looks(genotype).map((trait) =>
    age < 3 && (trait === 'chalk' || trait === 'brine') ? 'pale young' : trait,
  );
  return shown.length > 0 ? shown : isLookedAt ? [] : null;
}

if (process.argv[1] === fileURLToPath(import.meta.url)) {
  writeFileSync(new URL('saltmarsh-group.csv', import.meta.url), makeDemo());
}
