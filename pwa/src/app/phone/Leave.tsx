import { useState } from 'preact/hooks';
import { status } from '../../engine/client';
import { Button, Going } from '../../ui';
import { t } from '../../words';
import { leave } from '../start/door';
import { wordsOf } from '../start/fault';

/** Takes this device out, once everything is sent. Once begun it is not stopped: see engine/clearing.ts. */
export function Leave() {
  const [wrong, setWrong] = useState('');
  const [busy, setBusy] = useState(false);
  const { log, unsent, unsentPictures } = status.value;
  const holds = unsent + unsentPictures > 0;
  const go = () => {
    setBusy(true);
    setWrong('');
    leave().then(() => location.assign('/'), (fault: unknown) => {
      setWrong(wordsOf(fault));
      setBusy(false);
    });
  };
  return (
    <details class="phone-leave">
      <summary>{t('phone.leave')}</summary>
      <div class="phone-part">
        <p>{t(holds ? 'phone.leave-unsent' : 'phone.leave-what')}</p>
        {busy && <Going says={t('going.clearing')} />}
        {wrong !== '' && <p class="wrong" role="alert">{wrong}</p>}
        <Button disabled={busy || holds || log === ''} onPress={go}>
          {t('phone.leave-go')}
        </Button>
      </div>
    </details>
  );
}
