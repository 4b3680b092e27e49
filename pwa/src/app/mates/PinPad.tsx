import { useState } from 'preact/hooks';
import { Button, NumberPad } from '../../ui';
import { t } from '../../words';
import { isPin } from './pin';

interface Props {
  /** What it is for. */
  title: string;
  wrong: string;
  busy: boolean;
  onPin: (pin: string) => void;
  onCancel?: (() => void) | undefined;
}

/** Asks for a PIN; what is typed shows as dots. */
export function PinPad({ title, wrong, busy, onPin, onCancel }: Props) {
  const [pin, setPin] = useState('');
  const go = () => {
    onPin(pin);
    setPin('');
  };
  return (
    <section class="pin" aria-label={title}>
      <h2>{title}</h2>
      <p class="pin-dots" aria-live="polite">
        <span aria-hidden="true">{'●'.repeat(pin.length) || '–'}</span>
        <span class="spoken">{t('who.digits', { n: pin.length })}</span>
      </p>
      {wrong !== '' && <p class="wrong" role="alert">{wrong}</p>}
      <NumberPad value={pin} onChange={setPin} most={8} zeros />
      <Button kind="main" disabled={busy || !isPin(pin)} onPress={go}>
        {t('who.go')}
      </Button>
      {onCancel && (
        <Button kind="plain" onPress={onCancel}>
          {t('cancel')}
        </Button>
      )}
    </section>
  );
}
