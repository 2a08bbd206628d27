import { useRef, useState } from 'react';

/** The text for the buyer, to copy. Where the browser keeps scripts from copying, it is marked. */
export function Letter({ text }: { readonly text: string }) {
  const area = useRef<HTMLTextAreaElement>(null);
  const [told, setTold] = useState('');
  const copy = async () => {
    try {
      await navigator.clipboard.writeText(text);
      setTold('Copied.');
    } catch {
      // Over plain HTTP a browser gives scripts no clipboard.
      area.current?.select();
      setTold('Marked: copy it with your own keys or menu.');
    }
  };
  return (
    <div className="letter">
      <textarea
        ref={area}
        readOnly
        aria-label="Text for the buyer"
        rows={Math.min(24, text.split('\n').length + Math.ceil(text.length / 90))}
        value={text}
      />
      {/* On paper a field cannot flow over the page's end. */}
      <p className="on-paper" aria-hidden="true">
        {text}
      </p>
      <p className="acts">
        <button type="button" className="act" onClick={copy}>
          Copy the text
        </button>
        <span role="status">{told}</span>
      </p>
    </div>
  );
}
