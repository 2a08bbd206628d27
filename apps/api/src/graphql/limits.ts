import {
  type ASTVisitor,
  type FragmentDefinitionNode,
  GraphQLError,
  type SelectionSetNode,
  type ValidationContext,
} from 'graphql';

/** Deepest nesting of a request, and the most fields it may name, aliases counted. */
const MAX_DEPTH = 14;
const MAX_FIELDS = 1500;

/** Validation rule: refuses requests that are too deep or name too many fields. */
export function limitDepthAndSize(context: ValidationContext): ASTVisitor {
  return {
    OperationDefinition(operation) {
      let fields = 0;
      const measure = (set: SelectionSetNode, depth: number, spread: ReadonlySet<string>): void => {
        if (depth > MAX_DEPTH || fields > MAX_FIELDS) return;
        for (const selection of set.selections) {
          if (selection.kind === 'FragmentSpread') {
            const name = selection.name.value;
            const fragment: FragmentDefinitionNode | null | undefined = context.getFragment(name);
            // A fragment inside itself is reported by the standard's own rule.
            if (!fragment || spread.has(name)) continue;
            measure(fragment.selectionSet, depth, new Set([...spread, name]));
            continue;
          }
          if (selection.kind === 'Field') fields++;
          const below = selection.kind === 'Field' ? depth + 1 : depth;
          if (below > MAX_DEPTH) refuse(`goes deeper than ${MAX_DEPTH} levels`);
          if (selection.selectionSet) measure(selection.selectionSet, below, spread);
        }
      };
      const refuse = (what: string): void => {
        throw new GraphQLError(`This request ${what}.`, {
          nodes: operation,
          // The server gives every validation error one code of its own; this mark survives it.
          extensions: { isTooComplex: true, remedy: 'Ask for less at once, in several requests.' },
        });
      };
      try {
        measure(operation.selectionSet, 0, new Set());
        if (fields > MAX_FIELDS) refuse(`names more than ${MAX_FIELDS} fields`);
      } catch (error) {
        if (!(error instanceof GraphQLError)) throw error;
        context.reportError(error);
      }
    },
  };
}
