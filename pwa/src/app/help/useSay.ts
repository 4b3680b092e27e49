import { useEffect, useState } from 'preact/hooks';
import { language } from '../../words';
import { helpWords, type Say } from '../../words/help';

/** The help's words, null until they are there. */
export function useSay(): Say | null {
  const [say, setSay] = useState<Say | null>(null);
  useEffect(() => {
    let current = true;
    void helpWords().then((words) => current && setSay(() => words));
    return () => {
      current = false;
    };
  }, [language.value]);
  return say;
}
