/** A measure turned over in a dish: the gas that came together above, the water in it, and the head of that water. */
export function Measure({ volume, head }: { volume: string; head: string }) {
  return (
    <svg class="help-drawing wide" viewBox="0 0 300 210" role="img" aria-label={`${volume}, ${head}`}>
      <path class="water" d="M30 150h190v48H30zM90 92h50v72H90z" />
      <path class="glass" d="M30 130v68h190v-68" />
      <path class="glass" d="M90 172V24h50v148" />
      <path class="glass" d="M90 52h14M90 72h14M90 92h14M90 112h14M90 132h14" />
      <g class="bubble">
        <circle cx="116" cy="178" r="6" />
        <circle cx="112" cy="158" r="6" />
        <circle cx="119" cy="134" r="6" />
        <circle cx="114" cy="112" r="6" />
      </g>
      <path class="sound" d="M2 116h38q14 0 14 14v46q0 10 10 10h38q14 0 14-6" />
      <path class="glass" d="M152 24h14M159 24v68M152 92h14M159 92v58M152 150h14" />
      <text x="172" y="64">{volume}</text>
      <text x="172" y="126">{head}</text>
    </svg>
  );
}
