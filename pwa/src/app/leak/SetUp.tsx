import { t } from '../../words';

/** Gas collected over water, drawn: a vessel, the joint under water, the measure upside down over it, the height between both levels. */
export function SetUp() {
  return (
    <svg class="set-up" viewBox="0 0 300 190" role="img" aria-label={t('leak.setUp')}>
      <path class="water" d="M22 92h256v86H22z" />
      <path class="water" d="M116 70h48v24h-48z" />
      <g fill="none" stroke="currentColor" stroke-width="3">
        <path d="M20 60v120h260V60" />
        <path d="M114 150V22q0-8 8-8h36q8 0 8 8v128" />
        <path d="M114 40h10M114 55h14M114 85h10M114 100h14" stroke-width="2" />
        <path d="M20 92h94M166 92h114M116 70h48" stroke-width="2" />
        <path d="M60 178v-14h60v14M150 178v-14h90v14" />
        <path d="M120 158h30v20h-30z" />
        <circle cx="136" cy="142" r="4" />
        <circle cx="145" cy="122" r="5" />
        <circle cx="137" cy="102" r="5" />
        <path d="M186 70v22M182 70h8M182 92h8M168 70h14" stroke-width="1.5" />
      </g>
      <text x="140" y="50" text-anchor="middle">
        {t('leak.setUpGas')}
      </text>
      <text x="198" y="86">{t('leak.setUpHead')}</text>
    </svg>
  );
}
