/** A picture that somebody took or chose, kept on this device. */
import { codeOf, keepPicture } from '../../engine/client';
import type { Arrow, Picture } from '../../engine/types';
import { t } from '../../words';
import { type Redrawn, redrawn } from './picture';

/** A file's picture drawn anew, not kept yet; or why not, in words. */
export async function drawnFrom(file: File): Promise<{ drawn: Redrawn } | { wrong: string }> {
  const drawn = await redrawn(file).catch(() => null);
  return drawn === null ? { wrong: t('finding.picture-unreadable') } : { drawn };
}

/** Keeps a picture until the server has it, or says in words why not. */
export async function keep(drawn: Redrawn, arrows: Arrow[]): Promise<{ picture: Picture } | { wrong: string }> {
  const { width, height } = drawn;
  try {
    const { hash, bytes } = await keepPicture(drawn.bytes);
    const picture: Picture = { hash, bytes, type: 'image/jpeg', width, height };
    return { picture: arrows.length === 0 ? picture : { ...picture, arrows } };
  } catch (fault) {
    return { wrong: t('finding.picture-failed', { code: codeOf(fault) }) };
  }
}
