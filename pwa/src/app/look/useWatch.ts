import { useEffect, useState } from 'preact/hooks';
import { ask } from '../../engine/client';
import type { Watch } from '../../engine/types';
import { type Group, rest } from './group';

/** What the running look shows by the clock where nothing bubbles, asked for the joints that do not; null until it is known. */
export function useWatch(round: string, group: Group): Watch | null {
  const [watch, setWatch] = useState<Watch | null>(null);
  const joints = rest(group);
  const { bubbling, back } = group;
  const key = [round, back, ...joints, '|', ...bubbling].join(' ');
  useEffect(() => {
    let current = true;
    const take = (answer: Watch | null) => {
      if (current) setWatch(answer);
    };
    ask('watch', { round, joints, bubbling, back }).then(take, () => take(null));
    return () => {
      current = false;
    };
  }, [key]);
  return watch;
}
