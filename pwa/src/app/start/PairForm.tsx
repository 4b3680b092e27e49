import { useState } from 'preact/hooks';
import { Lens } from '../../scan/Lens';
import { Snapshot } from '../../scan/Snapshot';
import { Button, Field } from '../../ui';
import { t } from '../../words';
import { pair } from './door';
import { wordsOf } from './fault';
import { deviceKind, traits } from './install';
import { groupedCode, secretIn } from './invitation';

interface Props {
  /** The secret of the invitation where a link brought it, else null. */
  given: string | null;
  /** Begin with the camera rather than with the field. */
  scanning?: boolean;
  /** Called once this device is paired. */
  onPaired: () => void;
}

/** Pairs this device: the invitation scanned or typed, the device named, one press. */
export function PairForm({ given, scanning = false, onPaired }: Props) {
  const [secret, setSecret] = useState(given);
  const [typed, setTyped] = useState('');
  const [device, setDevice] = useState(t(`start.device-${deviceKind(traits())}`));
  const [looking, setLooking] = useState(scanning && given === null);
  const [wrong, setWrong] = useState('');
  const [busy, setBusy] = useState(false);
  const heard = (text: string) => {
    const found = secretIn(text);
    setWrong(found === null ? `${t('start.other')} ${text}` : '');
    if (found === null) return;
    setSecret(found);
    setLooking(false);
  };
  const code = secret ?? secretIn(typed);
  const go = async () => {
    if (code === null) return;
    setBusy(true);
    try {
      await pair({ code, device: device.trim() });
      onPaired();
    } catch (fault) {
      setWrong(wordsOf(fault));
      setSecret(null);
      setBusy(false);
    }
  };
  if (looking) return <ByCamera wrong={wrong} onText={heard} onType={() => setLooking(false)} />;
  return (
    <div class="pair">
      {secret !== null ? (
        <p>{t('start.heard')}</p>
      ) : (
        <Field label={t('start.code')} hint={t('start.code-hint')} value={typed} onInput={(text) => setTyped(groupedCode(text))} />
      )}
      <Field label={t('start.device')} hint={t('start.device-hint')} value={device} onInput={setDevice} />
      <Wrong words={wrong} />
      <div class="pair-acts">
        <Button kind="main" disabled={busy || code === null || device.trim() === ''} onPress={() => void go()}>
          {t(busy ? 'start.pairing' : 'start.pair')}
        </Button>
        <Button onPress={() => setLooking(true)}>{t('start.scan')}</Button>
      </div>
    </div>
  );
}

function ByCamera({ wrong, onText, onType }: { wrong: string; onText: (text: string) => void; onType: () => void }) {
  return (
    <div class="pair-acts">
      <Lens onText={onText} />
      <Wrong words={wrong} />
      <Snapshot onText={onText} />
      <Button onPress={onType}>{t('start.type')}</Button>
    </div>
  );
}

/** What went wrong, in words; nothing while all is well. */
export function Wrong({ words }: { words: string }) {
  if (words === '') return null;
  return (
    <p class="wrong" role="alert">
      {words}
    </p>
  );
}
