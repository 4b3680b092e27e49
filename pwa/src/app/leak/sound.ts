/** A short sound for each tap, so that eyes can stay on the bubble; and the button of a headset. */
import { sound } from '../../ui/theme';

let context: AudioContext | null = null;
let silence: HTMLAudioElement | null = null;

/** Wakes the sound; call it in a press, browsers want one. */
export function wake(): void {
  if (sound.value === 'off' || typeof AudioContext === 'undefined') return;
  context ??= new AudioContext();
  void context.resume();
}

/** A tick of 40 ms, every tenth a little higher; silent where sound is off. */
export function tick(n: number): void {
  tone(n % 10 === 0 ? 1320 : 880, 0.04);
}

/** Counting starts, stops, or a tap is taken back: longer, and lower for the last. */
export function note(what: 'start' | 'stop' | 'undo'): void {
  tone({ start: 1320, stop: 660, undo: 330 }[what], 0.12);
}

function tone(pitch: number, seconds: number): void {
  if (sound.value === 'off' || context === null) return;
  const now = context.currentTime;
  const tone = context.createOscillator();
  const volume = context.createGain();
  tone.frequency.value = pitch;
  volume.gain.setValueAtTime(0.35, now);
  volume.gain.exponentialRampToValueAtTime(0.001, now + seconds);
  tone.connect(volume).connect(context.destination);
  tone.start(now);
  tone.stop(now + seconds + 0.01);
}

const media = ['play', 'pause', 'nexttrack'] as const;

/**
 * Listens to a headset's button until the returned function is called. Phones give it to the page that plays something:
 * so silence is played meanwhile, where sound is on and was woken.
 */
export function headset(press: () => void): () => void {
  if (sound.value === 'off' || context === null || !('mediaSession' in navigator)) return () => undefined;
  silence ??= new Audio(URL.createObjectURL(new Blob([quiet(6)], { type: 'audio/wav' })));
  silence.loop = true;
  void silence.play().catch(() => undefined); // refused: then the button stays the phone's
  for (const action of media) navigator.mediaSession.setActionHandler(action, press);
  return () => {
    silence?.pause();
    for (const action of media) navigator.mediaSession.setActionHandler(action, null);
  };
}

const rate = 8000;

/** A WAV file of so many seconds of silence: 8 bits, one channel. */
function quiet(seconds: number): ArrayBuffer {
  const size = rate * seconds;
  const bytes = new Uint8Array(44 + size).fill(128, 44);
  const view = new DataView(bytes.buffer);
  const put = (at: number, text: string) => [...text].forEach((c, i) => view.setUint8(at + i, c.charCodeAt(0)));
  put(0, 'RIFF');
  view.setUint32(4, 36 + size, true);
  put(8, 'WAVEfmt ');
  [16, 1 + (1 << 16), rate, rate, 1 + (8 << 16)].forEach((word, i) => view.setUint32(16 + 4 * i, word, true));
  put(36, 'data');
  view.setUint32(40, size, true);
  return bytes.buffer;
}
