import { useLocation } from 'preact-iso';
import { useState } from 'preact/hooks';
import { Button, Page } from '../ui';
import { t } from '../words';
import { Answer, registering } from './Answer';
import { Lens } from './Lens';
import { type Outcome, tagOf } from './outcome';
import './scan.css';
import { Snapshot } from './Snapshot';
import { TypedCode } from './TypedCode';

/** /scan: a tag by the camera, by a picture, or by its typed code; a hit opens the fixture. */
export function Scan() {
  const { route } = useLocation();
  const [typing, setTyping] = useState(false);
  const [outcome, setOutcome] = useState<Outcome | null>(null);
  const heard = async (text: string) => {
    const next = await tagOf(text);
    setOutcome(next);
    if (next.fixture === undefined) return;
    navigator.vibrate?.(30);
    route(`/f/${next.fixture}`, true);
  };
  const ways = (
    <div class="ways">
      {!typing && <Snapshot onText={(text) => void heard(text)} />}
      <Button onPress={() => setTyping(!typing)}>{t(typing ? 'scan.camera' : 'scan.type')}</Button>
    </div>
  );
  return (
    <Page title={t('scan.title')} back="/" act={<>{registering(outcome)}{ways}</>}>
      {typing && <TypedCode onText={(text) => void heard(text)} />}
      {outcome !== null && <Answer outcome={outcome} />}
      {!typing && <Lens onText={(text) => void heard(text)} />}
    </Page>
  );
}
