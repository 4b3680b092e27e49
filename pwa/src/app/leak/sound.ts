/** A short sound for each tap, so that eyes can stay on the bubble. */
import { sound } from '../../ui/theme';

let context: AudioContext | null = null;

/** Wakes the sound; call it in a press, browsers want one. */
export function wake(): void {
  if (sound.value === 'off' || typeof AudioContext === 'undefined') return;
  context ??= new AudioContext();
  void context.resume();
}

/** A tick of 40 ms, every tenth a little higher; silent where sound is off. */
export function tick(n: number): void {
  if (sound.value === 'off' || context === null) return;
  const now = context.currentTime;
  const tone = context.createOscillator();
  const volume = context.createGain();
  tone.frequency.value = n % 10 === 0 ? 1320 : 880;
  volume.gain.setValueAtTime(0.35, now);
  volume.gain.exponentialRampToValueAtTime(0.001, now + 0.04);
  tone.connect(volume).connect(context.destination);
  tone.start(now);
  tone.stop(now + 0.05);
}
