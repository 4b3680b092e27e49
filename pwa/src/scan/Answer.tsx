import { status, syncNow } from '../engine/client';
import { records } from '../app/duty';
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

/** The act that a blank tag asks for: registering the fixture that carries it. Null for what cannot be registered, or not by this person. */
export function registering(outcome: Outcome | null) {
  if (outcome?.problem !== 'tag-unknown' || outcome.code === undefined || !records()) return null;
  return <Button kind="main" href={`/new/${outcome.code}`}>{t('register.offer')}</Button>;
}

function Foreign({ text }: { text: string }) {
  return (
    <div>
      <p class="small soft">{t('scan.reads')}</p>
      <p class="foreign">{text}</p>
    </div>
  );
}

/** A good tag that nothing here carries: blank, and then it is registered; or this device has not heard of it yet. */
function Unknown() {
  const offline = status.value.reach === 'offline';
  return (
    <div>
      {records() && <p>{t('register.blank')}</p>}
      <p>{t(offline ? 'scan-do.unknown-offline' : 'scan-do.unknown-online')}</p>
      {!offline && <Button onPress={() => void syncNow()}>{t('scan.sync')}</Button>}
    </div>
  );
}
