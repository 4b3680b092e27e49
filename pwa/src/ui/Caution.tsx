import { said } from '../words';

/** One line of caution, or several, at the act. Codes are of the family "caution". */
export function Caution({ codes }: { codes: readonly string[] }) {
  if (codes.length === 0) return null;
  return (
    <div class="caution" role="note">
      <svg viewBox="0 0 24 24" aria-hidden="true" focusable="false">
        <path d="M12 3 22.5 21h-21z" fill="none" stroke="currentColor" stroke-width="2.4" stroke-linejoin="round" />
        <path d="M12 10v5m0 2v1.6" stroke="currentColor" stroke-width="2.4" />
      </svg>
      <div>
        {codes.map((code) => (
          <p key={code}>{said('caution', code)}</p>
        ))}
      </div>
    </div>
  );
}
