import { Button } from '../ui';
import { t } from '../words';
import './lens.css';
import { useCamera } from './useCamera';

interface Props {
  /** Called with each code that the camera reads, once while it stays in view. */
  onText: (text: string) => void;
}

/** The live picture with the frame to aim by, or the words why there is none. */
export function Lens({ onText }: Props) {
  const { video, sight, lamp, switchLamp, again } = useCamera(onText);
  const seeing = sight === 'starting' || sight === 'live';
  return (
    <section class={seeing ? 'lens' : 'lens blind'}>
      <video ref={video} hidden={!seeing} muted playsInline autoPlay aria-label={t('scan.live')} />
      {seeing && <span class="aim" aria-hidden="true" />}
      <p class="word" role="status">
        {seeing ? t(sight === 'live' ? 'scan.aim' : 'scan.starting') : t(`scan-trouble.${sight}`)}
      </p>
      {sight === 'live' && lamp !== null && (
        <Button kind="quiet" pressed={lamp} onPress={switchLamp}>
          {t(lamp ? 'scan.lamp-off' : 'scan.lamp-on')}
        </Button>
      )}
      {!seeing && sight !== 'insecure' && (
        <Button kind="quiet" onPress={again}>
          {t('scan.again')}
        </Button>
      )}
    </section>
  );
}
