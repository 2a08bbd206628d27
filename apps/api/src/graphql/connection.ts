import type { Type } from '@nestjs/common';
import { Field, Int, ObjectType } from '@nestjs/graphql';
import { UserError } from './errors.js';

@ObjectType({ description: 'Where a page of a list stands' })
export class PageInfo {
  @Field(() => Boolean) hasNextPage: boolean;
  @Field(() => Boolean) hasPreviousPage: boolean;
  @Field(() => String, { nullable: true }) startCursor: string | null;
  @Field(() => String, { nullable: true }) endCursor: string | null;
}

export interface Connection<Node> {
  edges: { cursor: string; node: Node }[];
  pageInfo: PageInfo;
  totalCount: number;
}

/** The connection type of a node type, by the cursor connections specification, with `totalCount`. */
export function connectionOf<Node>(node: Type<Node>, name: string): Type<Connection<Node>> {
  @ObjectType(`${name}Edge`)
  class Edge {
    @Field(() => String, { description: 'Opaque; give it as `after`' }) cursor: string;
    @Field(() => node) node: Node;
  }
  @ObjectType(`${name}Connection`)
  class Page {
    @Field(() => [Edge]) edges: Edge[];
    @Field(() => PageInfo) pageInfo: PageInfo;
    @Field(() => Int, { description: 'How many there are in all, not only on this page' })
    totalCount: number;
  }
  return Page;
}

const MAX_PAGE = 500;

/** Checks `first` and reads `after`: where to begin (0 without a cursor). */
export function pageStart(first: number, after: string | null | undefined): number {
  if (first < 1 || first > MAX_PAGE) {
    throw new UserError('BAD_USER_INPUT', `A page holds 1 to ${MAX_PAGE} entries, not ${first}.`, {
      place: 'first',
      remedy: `Ask for at most ${MAX_PAGE} and go on with 'after'.`,
    });
  }
  if (!after) return 0;
  const position = Number(/^at:(\d{1,9})$/.exec(Buffer.from(after, 'base64url').toString())?.[1]);
  if (Number.isInteger(position)) return position + 1;
  throw new UserError('BAD_USER_INPUT', 'This cursor was not made by this list.', {
    place: 'after',
    remedy: 'Take the cursor from the last edge of the page before.',
  });
}

/** One page of a list of which `nodes` are the entries from `start` on. */
export function pageOf<Node>(nodes: Node[], start: number, totalCount: number): Connection<Node> {
  const edges = nodes.map((node, i) => ({
    node,
    cursor: Buffer.from(`at:${start + i}`).toString('base64url'),
  }));
  return {
    edges,
    totalCount,
    pageInfo: {
      hasNextPage: start + nodes.length < totalCount,
      hasPreviousPage: start > 0,
      startCursor: edges[0]?.cursor ?? null,
      endCursor: edges.at(-1)?.cursor ?? null,
    },
  };
}
