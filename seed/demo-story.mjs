// The story of the demo program, all invented: who came, who was kept with whom.

/** Animals that came from elsewhere: what is true of them, and what was said. Genotypes: chalk, brine, sedge. */
export const FOUNDERS = [
  ['Avocet', 'm', '1974~', 'Nc NN NN', 'First male of the group.'],
  ['Samphire', 'f', '1972~', 'cc NN NN', 'Came pale; nobody knew of what kind.'],
  ['Plover', 'm', '1975~', 'NN NN NS', ''],
  ['Curlew', 'f', '1976~', 'NN NN NN', ''],
  ['Cordgrass', 'f', '1973~', 'Nc NN NN', ''],
  ['Marram', 'm', '1977~', 'NN Nb NN', ''],
  ['Glasswort', 'f', '1975~', 'NN NN NN', ''],
  ['Whimbrel', 'f', '1978~', 'NN Nb NN', ''],
  ['Thrift', 'f', '1979~', 'NN NN NN', ''],
  ['Dunlin', 'm', '1988~', 'NN bb NN', 'Bought 1999: pale with reddish eyes.'],
  [
    'Sandwort',
    'f',
    '1990~',
    'Nc NN NN',
    'Bought 2004; the seller said 100 % het chalk, no papers.',
    'ck=N/c',
  ],
  ['Turnstone', 'm', '1993~', 'NN NN NN', 'Taken in 2005, the last animal from outside.'],
];
export const NAMES = [
  ...['Godwit', 'Spoonbill', 'Sea Aster', 'Redshank', 'Purslane', 'Eelgrass', 'Knot', 'Ruff'],
  ...['Sanderling', 'Bulrush', 'Wigeon', 'Scurvygrass', 'Lugworm', 'Cockle', 'Pintail', 'Gadwall'],
  ...['Orache', 'Limpet', 'Smew', 'Garganey', 'Winkle', 'Bittern', 'Water Rail', 'Shelduck'],
];

/** Who was kept with whom: from which year, which males and which females by name or by what is chosen then. */
export const ERAS = [
  {
    from: 1986,
    pen: 'Lagoon run',
    males: ['Avocet'],
    females: ['Samphire', 'Curlew', 'Cordgrass'],
  },
  {
    from: 1986,
    pen: 'Windmill lawn',
    males: ['Plover', 'Marram'],
    females: ['Glasswort', 'Whimbrel', 'Thrift'],
  },
  {
    from: 2000,
    pen: 'Lagoon run',
    males: [{ of: 'Samphire' }],
    females: ['Cordgrass', { of: 'Samphire' }, { of: 'Cordgrass' }],
  },
  {
    from: 2000,
    pen: 'Reed yard',
    males: ['Dunlin', 'Plover', { of: 'Glasswort' }],
    females: ['Curlew', { of: 'Whimbrel' }, { of: 'Thrift' }],
  },
  { from: 2000, pen: 'Sluice pen', males: [], females: ['Whimbrel'] },
  {
    from: 2006,
    pen: 'Windmill lawn',
    males: ['Turnstone', 'Marram'],
    females: ['Glasswort', 'Thrift', 'Sandwort'],
  },
  {
    from: 2013,
    pen: 'Lagoon run',
    males: [{ shows: 'chalk' }],
    females: [{ of: 'Sandwort' }, { shows: 'chalk' }, { near: 'chalk' }],
  },
  {
    from: 2013,
    pen: 'Reed yard',
    males: ['Dunlin', { shows: 'sedge' }, { near: 'chalk' }],
    females: [{ shows: 'chalk' }, { shows: 'sedge' }, { near: 'brine' }, { of: 'Curlew' }],
  },
  { from: 2013, pen: 'Sluice pen', males: [], females: ['Sandwort'] },
  { from: 2009, pen: 'Sluice pen', males: [], females: ['Thrift'] },
  {
    from: 2020,
    pen: 'Sluice pen',
    males: [{ shows: 'brine' }],
    females: [{ shows: 'chalk' }, { shows: 'chalk' }],
  },
  {
    from: 2019,
    pen: 'Windmill lawn',
    males: [{ near: 'brine' }, { shows: 'sedge' }],
    females: [{ shows: 'brine' }, { near: 'brine' }, { shows: 'sedge' }],
  },
];
