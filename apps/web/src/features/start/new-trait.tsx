import { type FormEvent, useState } from 'react';
import { Choice } from '../../components/choice.js';
import { Field } from '../../components/field.js';
import { useAct } from '../../lib/use-act.js';
import { TellingFault } from './gives.js';
import { TellGene, TellTrait } from './start-documents.js';

/** Looks at hatchlings that are wrong, of all. Chosen by us: no source; changed under Genes and traits. */
const MISREAD_YOUNG = 0.02;

/** A first trait by plain choice; its rule can be told in full later, under Genes and traits. */
export function NewTrait({ programId }: { readonly programId: string }) {
  const [name, setName] = useState('pale');
  const [passes, setPasses] = useState<'BOTH' | 'ONE' | 'UNKNOWN'>('UNKNOWN');
  const [fault, setFault] = useState<string | null>(null);
  const gene = useAct(TellGene);
  const trait = useAct(TellTrait);
  const submit = async (event: FormEvent) => {
    event.preventDefault();
    if (gene.running || trait.running) return;
    const word = name.trim();
    const code = word
      .toLowerCase()
      .replace(/[^\p{L}\p{N}]+/gu, '-')
      .slice(0, 40);
    if (!code) return setFault('What do you call the look? Pale will do.');
    const made = await gene.run((commandId) => ({
      programId,
      input: {
        commandId,
        code,
        name: word,
        inheritance: 'AUTOSOMAL' as const,
        alleles: [{ name: 'N' }, { name: 'p' }],
        founderRule: 'ANY' as const,
      },
    }));
    if (!made.done) return setFault(made.faults.map(({ message }) => message).join(' '));
    const genotypes = passes === 'ONE' ? 'N/p | p/p' : 'p/p';
    const named = await trait.run((commandId) => ({
      programId,
      input: {
        commandId,
        name: word,
        shows: `"${code}" = ${genotypes}`,
        description:
          passes === 'UNKNOWN' ? 'How it passes on is not known; taken as recessive.' : null,
        misreadYoung: MISREAD_YOUNG,
        misreadAdult: 0,
      },
    }));
    setFault(named.done ? null : named.faults.map(({ message }) => message).join(' '));
  };
  return (
    <form className="made" onSubmit={submit} noValidate>
      <h3>What is the look you are after?</h3>
      <TellingFault fault={fault} />
      <Field id="look-name" label="What you call it" value={name} onChange={setName} />
      <Choice
        label="How it passes on"
        options={[
          { value: 'BOTH', words: 'From both parents' },
          { value: 'ONE', words: 'One is enough' },
          { value: 'UNKNOWN', words: 'Not known' },
        ]}
        value={passes}
        onChange={setPasses}
      />
      <p className="small soft">
        Not known is taken as 'from both parents' (recessive): plain parents that throw pale young
        point to it. It can be changed later.
      </p>
      <button className="act" type="submit" aria-disabled={gene.running || trait.running}>
        That is the look
      </button>
    </form>
  );
}
