import { useState } from 'preact/hooks';
import { meAgain, status } from '../../engine/client';
import { server } from '../../link/server';
import { Button, Field } from '../../ui';
import { t } from '../../words';
import { keepPin } from '../mates/pins';
import { wordsOf } from '../start/fault';
import { groupedCode, secretIn } from '../start/invitation';

/** Other people on this phone: who uses it, one more by an invitation, one no more. */
export function Share() {
  const [typed, setTyped] = useState('');
  const [wrong, setWrong] = useState('');
  const [busy, setBusy] = useState(false);
  const { me, unsent } = status.value;
  if (!me) return null;
  const code = secretIn(typed);
  const doing = async (what: () => Promise<void>) => {
    setBusy(true);
    setWrong('');
    await what().catch((fault: unknown) => setWrong(wordsOf(fault)));
    setBusy(false);
  };
  const join = () =>
    doing(async () => {
      const { person } = await server.post<{ person: string }>('/api/mates', { code });
      await keepPin(person, null);
      await meAgain();
      location.assign('/who');
    });
  const part = (person: string) =>
    doing(async () => {
      await server.post(`/api/mates/${person}/leave`);
      await keepPin(person, null);
      await meAgain();
    });
  return (
    <details class="phone-leave">
      <summary>{t('phone.share')}</summary>
      <div class="phone-part">
        <p>{t('phone.share-what')}</p>
        {(me.mates ?? []).map(({ id, name }) => (
          <div key={id} class="phone-mate">
            <span class="strong">{name}</span>
            {id !== me.person.id && (
              <Button kind="plain" disabled={busy || unsent > 0} label={t('phone.part-of', { name })} onPress={() => void part(id)}>
                {t('phone.part')}
              </Button>
            )}
          </div>
        ))}
        <Field label={t('start.code')} hint={t('phone.share-hint')} value={typed} onInput={(text) => setTyped(groupedCode(text))} />
        {wrong !== '' && <p class="wrong" role="alert">{wrong}</p>}
        <Button disabled={busy || code === null} onPress={() => void join()}>
          {t('phone.share-go')}
        </Button>
      </div>
    </details>
  );
}
