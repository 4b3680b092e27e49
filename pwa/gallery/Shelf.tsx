import type { ComponentChildren } from 'preact';

/** One part in one state. */
export interface Exhibit {
  /** Which part, and in which state. */
  name: string;
  shown: ComponentChildren;
}

/** Parts that belong together, each under its name. */
export function Shelf({ name, exhibits }: { name: string; exhibits: readonly Exhibit[] }) {
  return (
    <section class="shelf" aria-label={name}>
      <h1>{name}</h1>
      {exhibits.map((one) => (
        <article key={one.name} aria-label={one.name}>
          <h2>{one.name}</h2>
          {one.shown}
        </article>
      ))}
    </section>
  );
}

/** For parts that want to tell of a press: nobody listens here. */
export function nothing(): void {}
