import type { ComponentChildren } from 'preact';

/** Names with their values, one under the other; empty values are left out. */
export function Facts({ facts }: { facts: readonly (readonly [string, ComponentChildren])[] }) {
  return (
    <dl class="finding-facts">
      {facts
        .filter(([, value]) => value !== '' && value !== undefined && value !== null)
        .map(([name, value]) => (
          <div key={name}>
            <dt>{name}</dt>
            <dd>{value}</dd>
          </div>
        ))}
    </dl>
  );
}
