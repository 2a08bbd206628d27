import { graphql } from './graphql.js';

/** The yard as a phone keeps it and as paper shows it. */
export const yardAnimal = graphql(`
  fragment YardAnimal on RoundAnimal @_unmask {
    id
    code
    name
    sex
    penId
    marks
    massG
    sclMm
  }
`);

export const yardPlaces = graphql(`
  fragment YardPlaces on RoundCopy @_unmask {
    pens {
      id
      name
      isQuarantine
    }
    lots {
      id
      code
      count
      penId
    }
    traits
  }
`);

export const yardClutch = graphql(`
  fragment YardClutch on RoundClutch @_unmask {
    id
    code
    laid
    mothers
  }
`);
