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

const SetPassword = graphql(`
  mutation SetPassword($email: String!, $name: String, $password: String!) {
    setPassword(email: $email, name: $name, password: $password) {
      account {
        id
        email
        name
        hasPassword
      }
    }
  }
`);

/** The first own password of somebody who came by a link. */
export function SetPasswordForm(props: {
  readonly email: string;
  readonly name: string;
  readonly onDone: () => void;
  readonly onLater: () => void;
}) {
  const [name, setName] = useState(props.name);
  const [email, setEmail] = useState(props.email);
  const [password, setPassword] = useState('');
  const [faults, setFaults] = useState<FormFault[]>([]);
  const { run, running } = useAct(SetPassword);
  const submit = async (event: FormEvent) => {
    event.preventDefault();
    const missing: FormFault[] = [];
    if (!email.includes('@'))
      missing.push({ field: 'email', message: 'Write an e-mail address, with an @ in it.' });
    if (!password) missing.push({ field: 'password', message: 'Write a password.' });
    setFaults(missing);
    if (missing.length > 0 || running) return;
    const outcome = await run(() => ({
      email: email.trim(),
      name: name.trim() || null,
      password,
    }));
    if (outcome.done) props.onDone();
    else
      setFaults(
        formFaults(outcome.faults, (place) =>
          ['email', 'name', 'password'].find((field) => place.endsWith(field)),
        ),
      );
  };
  return (
    <form className="onecol" onSubmit={submit} noValidate>
      <ErrorSummary faults={faults} />
      <Field
        id="name"
        label="Your name"
        hint="As the others of the program see it beside what you recorded."
        autoComplete="name"
        value={name}
        onChange={setName}
        fault={faultAt(faults, 'name')}
      />
      <Field
        id="email"
        label="E-mail"
        hint="Only to sign in with. Nothing is sent to it."
        type="email"
        autoComplete="username"
        value={email}
        onChange={setEmail}
        fault={faultAt(faults, 'email')}
      />
      <PasswordField
        id="password"
        label="Password"
        hint="At least 12 characters: four or five words that do not belong together."
        autoComplete="new-password"
        value={password}
        onChange={setPassword}
        fault={faultAt(faults, 'password')}
      />
      <div className="acts">
        <button className="act" type="submit" aria-disabled={running}>
          {running ? 'Keeping it' : 'Keep these and go in'}
        </button>
        <button className="act quiet" type="button" onClick={props.onLater}>
          Not now
        </button>
      </div>
    </form>
  );
}
