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
 * until the new one is there. Null arguments: not asked yet.
 */
export function useAsk<Q extends keyof Questions>(
  question: Q,
  args: Questions[Q]['ask'] | null,
): Asked<Questions[Q]['answer']> {
  const [asked, setAsked] = useState<Asked<Questions[Q]['answer']>>(none);
  const key = args === null ? null : `${question} ${JSON.stringify(args)}`;
  const shown = useRef(key);
  const turn = changed.value;
  useEffect(() => {
    if (key === null || args === null) return;
    let current = true;
    const answered = (now: Asked<Questions[Q]['answer']>) => {
      if (!current) return;
      shown.current = key;
      setAsked(now);
    };
    ask(question, args).then(
      (answer) => answered({ answer, fault: undefined }),
      (thrown) => answered({ answer: undefined, fault: asFault(thrown) }),
    );
    return () => {
      current = false;
    };
  }, [key, turn]);
  return shown.current === key ? asked : none;
}
