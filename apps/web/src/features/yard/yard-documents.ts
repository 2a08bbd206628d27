import { namedAnimal } from '../../lib/answer-fragments.js';
import { graphql, type ResultOf } from '../../lib/graphql.js';

/** Who is where on a day. */
export const YardQuery = graphql(
  `
    query Yard($programId: ID!, $on: String, $unplaced: Int) {
      yard(programId: $programId, on: $on) {
        day
        sentence
        pens {
          id
          name
          areaM2
          isQuarantine
          capacity
          features
          corners {
            x
            y
          }
          sharesFenceWith
          occupants {
            stayId
            since
            until
            animal {
              ...NamedAnimal
            }
          }
          lots {
            id
            code
            count
          }
        }
        unplacedCount
        unplaced(first: $unplaced) {
          ...NamedAnimal
        }
        unplacedLots {
          id
          code
          count
        }
      }
    }
  `,
  [namedAnimal],
);
export type YardDay = ResultOf<typeof YardQuery>['yard'];
export type YardPen = YardDay['pens'][number];
export type Occupant = YardPen['occupants'][number];

export const LotsQuery = graphql(`
  query Lots($programId: ID!) {
    lots(programId: $programId) {
      id
      code
      species
      count
      clutches
      pen
    }
  }
`);

export const AddPen = graphql(`
  mutation AddPen($programId: ID!, $input: AddPenInput!) {
    addPen(programId: $programId, input: $input) {
      commandId
      program {
        id
        revision
      }
      pen {
        id
        name
      }
    }
  }
`);

export const EditPen = graphql(`
  mutation EditPen($programId: ID!, $input: EditPenInput!) {
    editPen(programId: $programId, input: $input) {
      commandId
      program {
        id
        revision
      }
      pen {
        id
        name
      }
    }
  }
`);

export const RemovePen = graphql(`
  mutation RemovePen($programId: ID!, $input: RemovePenInput!) {
    removePen(programId: $programId, input: $input) {
      command {
        id
        sentence
      }
      program {
        id
        revision
      }
    }
  }
`);

export const CorrectStay = graphql(`
  mutation CorrectStay($programId: ID!, $input: CorrectStayInput!) {
    correctStay(programId: $programId, input: $input) {
      commandId
      program {
        id
        revision
      }
      pen {
        id
        name
      }
    }
  }
`);
