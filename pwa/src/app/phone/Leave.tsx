import { useState } from 'preact/hooks';
import { status } from '../../engine/client';
import { Button } from '../../ui';
import { t } from '../../words';
import { leave } from '../start/door';
import { wordsOf } from '../start/fault';

/** Takes this device out, once everything is sent. */
export function Leave() {
  const [wrong, setWrong] = useState('');
  const { log, unsent, unsentPictures } = status.value;
  const holds = unsent + unsentPictures > 0;
  const go = () => leave().then(() => location.assign('/'), (fault: unknown) => setWrong(wordsOf(fault)));
  return (
    <details class="phone-leave">
      <summary>{t('phone.leave')}</summary>
      <div class="phone-part">
        <p>{t(holds ? 'phone.leave-unsent' : 'phone.leave-what')}</p>
        {wrong !== '' && <p class="wrong" role="alert">{wrong}</p>}
        <Button disabled={holds || log === ''} onPress={() => void go()}>
          {t('phone.leave-go')}
        </Button>
      </div>
    </details>
  );
}
