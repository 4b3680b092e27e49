import { useState } from 'preact/hooks';
import { Button, Sheet } from '../../ui';
import { refusal } from './sites';

interface Props {
  title: string;
  /** What it means, a paragraph each. */
  says: readonly string[];
  go: string;
  act: () => Promise<void>;
  onClose: () => void;
}

/** Says what something means that cannot be taken back: it goes by a press of its own. */
export function Confirm({ title, says, go, act, onClose }: Props) {
  const [wrong, setWrong] = useState('');
  const press = () => act().then(onClose, (fault: unknown) => setWrong(refusal(fault)));
  return (
    <Sheet title={title} onClose={onClose}>
      {says.map((words) => (
        <p key={words}>{words}</p>
      ))}
      {wrong !== '' && <p class="wrong" role="alert">{wrong}</p>}
      <Button kind="main" onPress={() => void press()}>
        {go}
      </Button>
    </Sheet>
  );
}
