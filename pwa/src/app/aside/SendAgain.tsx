import { useState } from 'preact/hooks';
import { named, syncNow } from '../../engine/client';
import { type SetAside, settle } from '../../link/asides';
import { Button, Field, Sheet } from '../../ui';
import { said, t } from '../../words';
import { useSaving } from '../save';
import { again, type opened, plain, unread } from './again';

interface Props {
  aside: SetAside;
  line: NonNullable<ReturnType<typeof opened>>;
  onClose: () => void;
  onDone: () => void;
}

/** Amends the plain fields of one's own record and sends it as a new one; what was set aside stays on record there. */
export function SendAgain({ aside, line, onClose, onDone }: Props) {
  const [fields, setFields] = useState(() => plain(line));
  const [wrong, setWrong] = useState('');
  const [sent, setSent] = useState(false);
  const { problem, save } = useSaving();
  const set = (at: number, text: string) => setFields(fields.map((field, n) => (n === at ? { ...field, text } : field)));
  const go = async () => {
    if (!sent && (await save([again(aside, line, fields)])) === null) return;
    setSent(true); // from here on only the settling is tried again
    try {
      await settle(aside, 'amended');
    } catch (fault) {
      setWrong(t('aside.sent-not-settled', { code: named(fault) }));
      return;
    }
    await syncNow();
    onDone();
    onClose();
  };
  return (
    <Sheet title={t('aside.again')} onClose={onClose}>
      <p>{t('aside.again-what')}</p>
      {fields.map(({ field, text, number }, at) => (
        <Field key={field} label={said('body', field)} type={number ? 'number' : 'text'} value={text} onInput={(next) => set(at, next)} />
      ))}
      {(problem ?? wrong) && <p class="wrong" role="alert">{problem ?? wrong}</p>}
      <Button kind="main" disabled={unread(fields)} onPress={() => void go()}>
        {t(sent ? 'retry' : 'aside.send')}
      </Button>
    </Sheet>
  );
}
