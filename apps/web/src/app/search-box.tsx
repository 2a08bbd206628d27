import { useEffect } from 'react';
import { useNavigate } from 'react-router';
import { AnimalFinder } from '../components/animal-finder.js';
import { addresses } from '../lib/addresses.js';

const FIELD = 'find-anything';

/** Finds an animal from anywhere; the slash key leads to it. */
export function SearchBox({ programId }: { readonly programId: string }) {
  const navigate = useNavigate();
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
  return (
    <search className="find">
      <AnimalFinder
        id={FIELD}
        programId={programId}
        label="Find an animal by code or name. Key: slash"
        labelHidden
        placeholder="Find an animal"
        onPick={(animal) => navigate(addresses.animal(programId, animal.id))}
        onEnterText={(text) => navigate(addresses.animals(programId, text))}
      />
    </search>
  );
}
