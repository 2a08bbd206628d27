import { graphql, type ResultOf } from '../../lib/graphql.js';

const definitionFields = graphql(`
  fragment DefinitionFields on Definitions @_unmask {
    assumedFrequency
    founders {
      id
      code
      name
    }
    loci {
      id
      code
      name
      inheritance
      declarations
      founderRule
      founders {
        id
        code
        name
      }
      alleles {
        name
        frequency
      }
      looks {
        genotype
        rareCopies
        looks
        gap
      }
    }
    traits {
      id
      name
      shows
      said
      loci
      description
      misreadYoung
      misreadAdult
      welfareNote
      welfareSource
      seenIn
      plain {
        locusId
        genotypes
        fromDays
        sex
      }
    }
    pairs {
      id
      firstId
      secondId
      kind
      chance
      reason
      now
    }
  }
`);

export const DefinitionsQuery = graphql(
  `
    query Definitions($programId: ID!) {
      definitions(programId: $programId) {
        ...DefinitionFields
      }
    }
  `,
  [definitionFields],
);

export type Definitions = ResultOf<typeof DefinitionsQuery>['definitions'];
export type Gene = Definitions['loci'][number];
export type Trait = Definitions['traits'][number];
export type GenePair = Definitions['pairs'][number];
export type GenotypeLook = Pick<Gene['looks'][number], 'genotype' | 'looks' | 'gap'>;

export const CheckTrait = graphql(`
  query CheckTrait($programId: ID!, $input: CheckTraitInput!) {
    checkTrait(programId: $programId, input: $input) {
      said
      faults {
        message
        remedy
      }
      looks {
        locus
        genotype
        looks
        gap
      }
    }
  }
`);

export const AddGene = graphql(`
  mutation AddGene($programId: ID!, $input: AddLocusInput!) {
    addLocus(programId: $programId, input: $input) {
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

export const EditGene = graphql(`
  mutation EditGene($programId: ID!, $input: EditLocusInput!) {
    editLocus(programId: $programId, input: $input) {
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

export const RemoveGene = graphql(`
  mutation RemoveGene($programId: ID!, $input: RemoveLocusInput!) {
    removeLocus(programId: $programId, input: $input) {
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

export const AddTrait = graphql(`
  mutation AddTrait($programId: ID!, $input: AddTraitInput!) {
    addTrait(programId: $programId, input: $input) {
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

export const EditTrait = graphql(`
  mutation EditTrait($programId: ID!, $input: EditTraitInput!) {
    editTrait(programId: $programId, input: $input) {
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

export const RemoveTrait = graphql(`
  mutation RemoveTrait($programId: ID!, $input: RemoveTraitInput!) {
    removeTrait(programId: $programId, input: $input) {
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

export const SetGenePair = graphql(`
  mutation SetGenePair($programId: ID!, $input: SetLocusPairInput!) {
    setLocusPair(programId: $programId, input: $input) {
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

export const RemoveGenePair = graphql(`
  mutation RemoveGenePair($programId: ID!, $input: RemoveLocusPairInput!) {
    removeLocusPair(programId: $programId, input: $input) {
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
