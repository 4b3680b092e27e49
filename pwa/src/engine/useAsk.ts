import { useEffect, useRef, useState } from 'preact/hooks';
import { ask, changed } from './client';
import { asFault, type Fault } from './fault';
import type { Questions } from './types';

/** An answer as it comes: both undefined while it is first asked. */
export interface Asked<Answer> {
  answer: Answer | undefined;
  fault: Fault | undefined;
}

const none = { answer: undefined, fault: undefined };

/**
 * A question that is asked again when something changed; the old answer stands
 * until a newer one is there, and one that comes late is better than none. Null arguments: not asked yet.
 */
export function useAsk<Q extends keyof Questions>(
  question: Q,
  args: Questions[Q]['ask'] | null,
): Asked<Questions[Q]['answer']> {
  const [asked, setAsked] = useState<Asked<Questions[Q]['answer']>>(none);
  const key = args === null ? null : `${question} ${JSON.stringify(args)}`;
  const shown = useRef({ key, turn: -1 });
  const wanted = useRef(key);
  wanted.current = key;
  const turn = changed.value;
  useEffect(() => {
    if (key === null || args === null) return;
    const answered = (now: Asked<Questions[Q]['answer']>) => {
      const { current } = shown;
      if (wanted.current !== key || (current.key === key && current.turn > turn)) return;
      shown.current = { key, turn };
      setAsked(now);
    };
    ask(question, args).then(
      (answer) => answered({ answer, fault: undefined }),
      (thrown) => answered({ answer: undefined, fault: asFault(thrown) }),
    );
  }, [key, turn]);
  useEffect(() => () => void (wanted.current = null), []);
  return shown.current.key === key ? asked : none;
}
