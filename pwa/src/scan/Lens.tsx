import { Button, Choice } from '../ui';
import { t } from '../words';
import './lens.css';
import { type Camera, useCamera } from './useCamera';

interface Props {
  /** Called with each code that the camera reads, once while it stays in view. */
  onText: (text: string) => void;
}

/** The live picture with the frame to aim by, lamp and nearness under it, or the words why there is none. */
export function Lens({ onText }: Props) {
  const camera = useCamera(onText);
  const { video, sight, near, again } = camera;
  const seeing = sight === 'starting' || sight === 'live';
  return (
    <section class={seeing ? 'lens' : 'lens blind'}>
      <div class="pane" hidden={!seeing}>
        <video ref={video} class={near.cut ? 'cut' : undefined} muted playsInline autoPlay aria-label={t('scan.live')} />
        {seeing && <span class="aim" aria-hidden="true" />}
      </div>
      <p class="word" role="status">
        {seeing ? t(sight === 'live' ? 'scan.aim' : 'scan.starting') : t(`scan-trouble.${sight}`)}
      </p>
      {sight === 'live' && <Hand {...camera} />}
      {!seeing && sight !== 'insecure' && (
        <Button kind="quiet" onPress={again}>
          {t('scan.again')}
        </Button>
      )}
    </section>
  );
}

/** What the thumb does while the other hand holds the phone: light, and nearer. */
function Hand({ lamp, switchLamp, near, comeNear }: Camera) {
  return (
    <div class="hand">
      <Choice
        legend={t('scan.near')}
        quiet
        options={(['1', '2'] as const).map((value) => ({ value, words: t('scan.times', { n: value }) }))}
        value={String(near.times) as '1' | '2'}
        onChoose={(times) => comeNear(Number(times))}
      />
      {lamp !== null && (
        <Button pressed={lamp} onPress={switchLamp}>
          {t(lamp ? 'scan.lamp-off' : 'scan.lamp-on')}
        </Button>
      )}
    </div>
  );
}
