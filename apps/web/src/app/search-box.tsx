import { useDeferredValue, useEffect, useState } from 'react';
import { useNavigate } from 'react-router';
import { AnimalOption, foundAnimal, Marked } from '../components/animal-finder.js';
import { CompletingField } from '../components/completing-field.js';
import { addresses } from '../lib/addresses.js';
import { graphql } from '../lib/graphql.js';
import { useRead } from '../lib/use-read.js';

const FIELD = 'find-anything';

const FindAnything = graphql(
  `
    query FindAnything($programId: ID!, $search: String!) {
      animals(programId: $programId, search: $search, first: 8) {
        totalCount
        edges {
          node {
            ...FoundAnimal
          }
        }
      }
      clutches(programId: $programId, search: $search, first: 4) {
        totalCount
        edges {
          node {
            sentence
            clutch {
              id
              code
            }
          }
        }
      }
    }
  `,
  [foundAnimal],
);

/** Finds an animal or a clutch from anywhere; the slash key leads to it. */
export function SearchBox({ programId }: { readonly programId: string }) {
  const navigate = useNavigate();
  const [text, setText] = useState('');
  const search = useDeferredValue(text.trim());
  const { data, waiting, faults } = useRead(FindAnything, { programId, search }, search === '');
  useEffect(() => {
    const onKey = (event: KeyboardEvent) => {
      const typing = /^(INPUT|TEXTAREA|SELECT)$/.test(document.activeElement?.tagName ?? '');
      if (event.key !== '/' || typing || event.ctrlKey || event.metaKey || event.altKey) return;
      event.preventDefault();
      document.getElementById(FIELD)?.focus();
    };
    document.addEventListener('keydown', onKey);
    return () => document.removeEventListener('keydown', onKey);
  }, []);
  const animals = search === '' ? [] : (data?.animals.edges ?? []);
  const clutches = search === '' ? [] : (data?.clutches.edges ?? []);
  const options = [
    ...animals.map(({ node }) => ({
      id: node.id,
      address: addresses.animal(programId, node.id),
      drawing: <AnimalOption animal={node} part={search} />,
    })),
    ...clutches.map(({ node: { clutch, sentence } }) => ({
      id: clutch.id,
      address: addresses.clutch(programId, clutch.id),
      drawing: (
        <span>
          Clutch{' '}
          <b className="code">
            <Marked text={clutch.code ?? ''} part={search} />
          </b>
          <span className="about">{sentence}</span>
        </span>
      ),
    })),
  ];
  const total = (data?.animals.totalCount ?? 0) + (data?.clutches.totalCount ?? 0);
  const note = () => {
    if (faults[0]) return faults[0].message;
    if (waiting && !data) return 'Looking';
    if (options.length === 0) return `Nothing found for '${search}'.`;
    return total > options.length
      ? `${total - options.length} more: type on to narrow them.`
      : `${options.length} found.`;
  };
  return (
    <search className="find">
      <CompletingField
        id={FIELD}
        label="Find an animal or a clutch by code or name. Key: slash"
        labelHidden
        placeholder="Find an animal or a clutch"
        text={text}
        onText={setText}
        options={options}
        optionKey={({ id }) => id}
        drawOption={({ drawing }) => drawing}
        onPick={({ address }) => navigate(address)}
        onEnterText={(entered) => {
          setText('');
          navigate(addresses.animals(programId, entered));
        }}
        note={note()}
      />
    </search>
  );
}
