import { type FormEvent, useState } from 'react';
import {
  ErrorSummary,
  type FormFault,
  faultAt,
  formFaults,
} from '../../components/error-summary.js';
import { Field } from '../../components/field.js';
import { graphql } from '../../lib/graphql.js';
import { useAct } from '../../lib/use-act.js';
import { PasswordField } from './password-field.js';

const SignIn = graphql(`
  mutation SignIn($email: String!, $password: String!) {
    signIn(email: $email, password: $password) {
      account {
        id
      }
    }
  }
`);

/** E-mail and password. `onDone` is called once the server has set its cookie. */
export function SignInForm({ onDone }: { readonly onDone: () => void }) {
  const [email, setEmail] = useState('');
  const [password, setPassword] = useState('');
  const [faults, setFaults] = useState<FormFault[]>([]);
  const { run, running } = useAct(SignIn);
  const submit = async (event: FormEvent) => {
    event.preventDefault();
    const missing: FormFault[] = [];
    if (!email.trim()) missing.push({ field: 'email', message: 'Write your e-mail address.' });
    if (!password) missing.push({ field: 'password', message: 'Write your password.' });
    setFaults(missing);
    if (missing.length > 0 || running) return;
    const outcome = await run(() => ({ email: email.trim(), password }));
    if (outcome.done) onDone();
    else {
      const refused = formFaults(outcome.faults, (place) =>
        place.endsWith('email') ? 'email' : 'password',
      );
      // The code of a refusal here is 'not signed in', whose remedy is this very page.
      setFaults(refused.map(({ field, message }) => ({ field, message })));
    }
  };
  return (
    <form className="onecol" onSubmit={submit} noValidate>
      <ErrorSummary faults={faults} />
      <Field
        id="email"
        label="E-mail"
        type="email"
        autoComplete="username"
        value={email}
        onChange={setEmail}
        fault={faultAt(faults, 'email')}
      />
      <PasswordField
        id="password"
        label="Password"
        autoComplete="current-password"
        value={password}
        onChange={setPassword}
        fault={faultAt(faults, 'password')}
      />
      <div className="acts">
        <button className="act" type="submit" aria-disabled={running}>
          {running ? 'Signing in' : 'Sign in'}
        </button>
      </div>
    </form>
  );
}
