import { useId } from 'react';
import { GLOSSARY, type GlossaryWord } from '../lib/glossary.js';
import './word.css';

/** A word of the trade or the science; a tap tells what it means, Escape or a tap elsewhere closes. */
export function Word(props: {
  readonly means: GlossaryWord;
  /** How the sentence has it, where that differs. */
  readonly children?: string;
}) {
  const id = useId();
  const words = props.children ?? props.means;
  return (
    <>
      <button type="button" className="word" popoverTarget={id}>
        {words}
      </button>
      <span id={id} popover="auto" className="meaning" role="note">
        <b>{props.means}</b> {GLOSSARY[props.means]}
      </span>
    </>
  );
}
