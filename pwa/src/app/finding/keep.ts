/** A picture that somebody took or chose, kept on this device. */
import { codeOf, keepPicture } from '../../engine/client';
import type { Picture } from '../../engine/types';
import { t } from '../../words';
import { redrawn } from './picture';

/** Keeps a file's picture until the server has it, or says in words why not. */
export async function keep(file: File): Promise<{ picture: Picture } | { wrong: string }> {
  const drawn = await redrawn(file).catch(() => null);
  if (drawn === null) return { wrong: t('finding.picture-unreadable') };
  const { width, height } = drawn;
  try {
    const { hash, bytes } = await keepPicture(drawn.bytes);
    return { picture: { hash, bytes, type: 'image/jpeg', width, height } };
  } catch (fault) {
    return { wrong: t('finding.picture-failed', { code: codeOf(fault) }) };
  }
}
