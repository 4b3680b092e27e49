import { drafting, takeUpdate } from '../engine/client';
import { t } from '../words';
import { Button } from './Button';

/** Takes the newer version, by the person's word; not while something half entered stands open. */
export function TakeUpdate() {
  const open = drafting();
  return (
    <Button disabled={open} onPress={() => void takeUpdate()}>
      {t(open ? 'phone.update-later' : 'phone.update')}
    </Button>
  );
}
