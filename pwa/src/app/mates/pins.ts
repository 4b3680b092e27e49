/** The PINs of those who share this phone: kept on it, and nowhere else. */
import { keepForDevice, ofDevice } from '../../engine/client';
import type { Sealed } from './pin';

const key = 'pins';

export type Pins = Record<string, Sealed>;

export async function pins(): Promise<Pins> {
  return (await ofDevice<Pins>(key)) ?? {};
}

/** Keeps somebody's PIN; null forgets it. Resolves once it is kept. */
export async function keepPin(person: string, sealed: Sealed | null): Promise<void> {
  const { [person]: _, ...others } = await pins();
  await keepForDevice(key, sealed === null ? others : { ...others, [person]: sealed });
}
