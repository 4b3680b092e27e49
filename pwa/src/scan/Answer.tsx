import { status, syncNow } from '../engine/client';
import { Button } from '../ui';
import { said, t } from '../words';
import { grouped } from './code';
import type { Outcome } from './outcome';
import './scan.css';

/** Why a scanned text led nowhere, and what to do. A foreign text is shown, never opened. */
export function Answer({ outcome }: { outcome: Outcome }) {
  const { problem, text } = outcome;
  if (problem === undefined || problem === '') return null;
  if (problem === 'failed') return <p class="wrong" role="alert">{t('scan-do.failed')}</p>;
  return (
    <section class="answer" role="alert">
      <p class="strong">{said('scan-problem', problem, { code: grouped(outcome.code ?? text) })}</p>
      {problem === 'tag-foreign' && <Foreign text={text} />}
      {problem === 'tag-unknown' && <Unknown />}
    </section>
  );
}

function Foreign({ text }: { text: string }) {
  return (
    <div>
      <p class="small soft">{t('scan.reads')}</p>
      <p class="foreign">{text}</p>
    </div>
  );
}

function Unknown() {
  const offline = status.value.reach === 'offline';
  return (
    <div>
      <p>{t(offline ? 'scan-do.unknown-offline' : 'scan-do.unknown-online')}</p>
      {!offline && <Button onPress={() => void syncNow()}>{t('scan.sync')}</Button>}
    </div>
  );
}
