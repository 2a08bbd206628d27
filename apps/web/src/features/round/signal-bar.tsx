import { Link, useLocation } from 'react-router';
import { addresses } from '../../lib/addresses.js';
import type { Round } from './use-round.js';

const WORDS = {
  unknown: 'Looking for the computer.',
  sent: 'Signal.',
  'no-signal': 'No signal. All is kept on this device.',
  'signed-out': 'Signed out. All is kept on this device.',
  'no-member': 'This program is not open to you any more.',
  refused: 'The computer could not take it. All is kept on this device.',
} as const;

/** Whether the computer is reached, and how much waits. In words, never by colour alone. */
export function SignalBar({
  round,
  programId,
}: {
  readonly round: Round;
  readonly programId: string;
}) {
  const { pathname, search } = useLocation();
  const waiting = round.queue.filter(({ answer }) => !answer).length;
  return (
    <div className={`signal ${round.signal === 'sent' && waiting === 0 ? 'clear' : ''}`}>
      <p role="status">
        <b>{round.isSending && waiting > 0 ? 'Sending.' : WORDS[round.signal]}</b>{' '}
        {waiting > 0 ? `${waiting} to send.` : round.signal === 'sent' && 'All is sent.'}
      </p>
      {round.signal === 'signed-out' ? (
        <Link to={addresses.signIn(pathname + search)}>Sign in</Link>
      ) : round.signal === 'no-member' ? (
        <Link to="/">Your programs</Link>
      ) : waiting > 0 ? (
        <button
          type="button"
          className="act line"
          onClick={round.sendNow}
          disabled={round.isSending}
        >
          Send
        </button>
      ) : (
        round.signal === 'sent' && <Link to={addresses.today(programId)}>Today</Link>
      )}
    </div>
  );
}
