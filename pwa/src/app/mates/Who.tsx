import { useEffect, useState } from 'preact/hooks';
import { hold, status } from '../../engine/client';
import type { Mate } from '../../engine/types';
import { Button, Page } from '../../ui';
import { t } from '../../words';
import './mates.css';
import { type Sealed, seal, tried } from './pin';
import { PinPad } from './PinPad';
import { keepPin, type Pins, pins } from './pins';

/** /who: those who share this phone; one press and a PIN, and what is recorded from then on is theirs. */
export function Who() {
  const [known, setKnown] = useState<Pins | null>(null);
  const [chosen, setChosen] = useState<Mate | null>(null);
  useEffect(() => {
    void pins().then(setKnown);
  }, []);
  const { me } = status.value;
  const mates = me?.mates ?? [];
  const holder = mates.find(({ id }) => id === me?.person.id);
  if (known === null || !holder) return <Page title={t('who.title')} back="/">{known && <p>{t('who.alone')}</p>}</Page>;
  const own = known[holder.id];
  const again = () => void pins().then(setKnown);
  return (
    <Page title={t('who.title')} back="/">
      <p class="strong">{t('who.now', { name: holder.name })}</p>
      {own === undefined ? (
        <Choose mate={holder} onDone={again} />
      ) : chosen ? (
        <Enter mate={chosen} sealed={known[chosen.id]} onCancel={() => setChosen(null)} />
      ) : (
        <Mates mates={mates.filter(({ id }) => id !== holder.id)} onChoose={setChosen} />
      )}
      <p class="small soft">{t('who.what')}</p>
    </Page>
  );
}

function Mates({ mates, onChoose }: { mates: readonly Mate[]; onChoose: (mate: Mate) => void }) {
  return (
    <ul class="mates" aria-label={t('who.others')}>
      {mates.map((mate) => (
        <li key={mate.id}>
          <Button onPress={() => onChoose(mate)}>{mate.name}</Button>
        </li>
      ))}
    </ul>
  );
}

/** The PIN of who takes the phone; who has none here yet chooses one. */
function Enter({ mate, sealed, onCancel }: { mate: Mate; sealed: Sealed | undefined; onCancel: () => void }) {
  const [kept, setKept] = useState(sealed);
  const [wrong, setWrong] = useState('');
  const [busy, setBusy] = useState(false);
  if (kept === undefined) return <Choose mate={mate} onDone={() => void take(mate)} onCancel={onCancel} />;
  const enter = async (pin: string) => {
    setBusy(true);
    const now = Date.now();
    const result = await tried(kept, pin, now);
    setKept(result.kept);
    await keepPin(mate.id, result.kept);
    if (result.opens) return take(mate);
    setBusy(false);
    const wait = Math.ceil((result.kept.until - now) / 1000);
    setWrong(wait > 0 ? t('who.wait', { n: wait }) : t('who.wrong'));
  };
  return <PinPad title={t('who.pin', { name: mate.name })} wrong={wrong} busy={busy} onPin={(pin) => void enter(pin)} onCancel={onCancel} />;
}

/** Choosing a PIN: twice the same. */
function Choose({ mate, onDone, onCancel }: { mate: Mate; onDone: () => void; onCancel?: () => void }) {
  const [first, setFirst] = useState('');
  const [wrong, setWrong] = useState('');
  const [busy, setBusy] = useState(false);
  const choose = async (pin: string) => {
    setWrong('');
    if (first === '') return setFirst(pin);
    setFirst('');
    if (pin !== first) return setWrong(t('who.differ'));
    setBusy(true);
    await keepPin(mate.id, await seal(pin));
    onDone();
  };
  const title = t(first === '' ? 'who.choose' : 'who.again', { name: mate.name });
  return <PinPad key={title} title={title} wrong={wrong} busy={busy} onPin={(pin) => void choose(pin)} onCancel={onCancel} />;
}

/** Hands the phone over. The app begins anew, so that nothing of the one before stays on a screen. */
async function take(mate: Mate): Promise<void> {
  await hold(mate.id);
  location.assign('/');
}
