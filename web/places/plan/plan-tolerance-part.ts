import { parseNumber, type Tolerance } from '@taptrue/protocol';
import { html, nothing } from 'lit';
import { customElement, state } from 'lit/decorators.js';
import { choiceRow } from '../../parts/controls/choice-row.ts';
import { PlanPart } from './plan-part.ts';
import { COMMON_SHARES } from './view/plan-words.ts';

type ToleranceKind = Tolerance['kind'] | 'none';
type IsoClass = Extract<Tolerance, { kind: 'iso 2768-1' }>['class'];

const ISO_CLASSES = [
  { value: 'f', label: 'f, fine' },
  { value: 'm', label: 'm, medium' },
  { value: 'c', label: 'c, coarse' },
  { value: 'v', label: 'v, very coarse' },
] as const;

/** What the print allows, how much of it the set-up may take, and the limit that leaves the sweep. */
@customElement('plan-tolerance-part')
export class PlanTolerancePart extends PlanPart {
  /** Chosen but not yet filled in: nothing is sent until it can be read. */
  @state() private begun: ToleranceKind | null = null;
  @state() private isoClass: IsoClass = 'm';
  @state() private rise = '';
  @state() private over = '';
  @state() private typesShare = false;
  @state() private shareWhy = '';

  override render() {
    const { question, answer } = this.plan;
    const kind = this.begun ?? question.tolerance?.kind ?? 'none';
    return html`<section class="plan-question" aria-label="Tolerance">
      <h2><span class="step-number">4</span> How good is good enough</h2>
      ${choiceRow<ToleranceKind>(
        'The print allows',
        [
          { value: 'angle', label: '± angle' },
          { value: 'iso 2768-1', label: 'ISO 2768-1 class' },
          { value: 'rise', label: 'rise over a length' },
          { value: 'none', label: 'says nothing' },
        ],
        kind,
        this.off,
        (chosen) => this.begin(chosen),
      )}
      ${this.renderKind(kind)}
      ${kind === 'none' ? nothing : this.renderShare()}
      ${answer === null ? nothing : html`<p class="said" role="status">${answer.limitSentence}</p>`}
    </section>`;
  }

  private begin(kind: ToleranceKind): void {
    const { tolerance } = this.pen.question;
    this.begun = kind === (tolerance?.kind ?? 'none') || kind === 'none' ? null : kind;
    if (kind === 'none') void this.pen.change({ tolerance: null });
  }

  private send(tolerance: Tolerance): void {
    this.begun = null;
    void this.pen.change({ tolerance });
  }

  private renderKind(kind: ToleranceKind) {
    const { tolerance } = this.plan.question;
    if (kind === 'angle') {
      return this.text(
        'Either way, ±',
        tolerance?.kind === 'angle' ? tolerance.text : '',
        (text) => this.send({ kind, text }),
        {
          placeholder: '5min',
          note: 'Such as 5min, 0.1deg or 30sec',
          why: this.whyOf('tolerance'),
        },
      );
    }
    if (kind === 'iso 2768-1') return this.renderIso();
    if (kind === 'rise') return this.renderRise();
    return nothing;
  }

  private renderIso() {
    const { tolerance } = this.plan.question;
    const set = tolerance?.kind === 'iso 2768-1' ? tolerance : null;
    return html`
      ${choiceRow('Class', ISO_CLASSES, set?.class ?? this.isoClass, this.off, (name) => {
        this.isoClass = name;
        if (set !== null) this.send({ ...set, class: name });
      })}
      ${this.text(
        'Shorter leg of the angle',
        set?.shorterLeg ?? '',
        (shorterLeg) =>
          this.send({ kind: 'iso 2768-1', class: set?.class ?? this.isoClass, shorterLeg }),
        { placeholder: '40mm', why: this.whyOf('shorter leg') },
      )}
    `;
  }

  private renderRise() {
    const { tolerance } = this.plan.question;
    const set = tolerance?.kind === 'rise' ? tolerance : null;
    const take = (part: { rise?: string; over?: string }) => {
      this.rise = part.rise ?? set?.rise ?? this.rise;
      this.over = part.over ?? set?.over ?? this.over;
      if (this.rise !== '' && this.over !== '')
        this.send({ kind: 'rise', rise: this.rise, over: this.over });
    };
    return html`<div class="pair-of-fields">
      ${this.text('Rise, ±', set?.rise ?? this.rise, (rise) => take({ rise }), {
        placeholder: '0.002in',
        why: this.whyOf('tolerance rise'),
      })}
      ${this.text('over', set?.over ?? this.over, (over) => take({ over }), {
        placeholder: '5in',
        why: this.whyOf('tolerance length'),
      })}
    </div>`;
  }

  private renderShare() {
    const { setUpShare } = this.plan.question;
    const common = COMMON_SHARES.find(({ value }) => value === setUpShare);
    const isTyped = this.typesShare || common === undefined;
    return html`
      ${choiceRow<number | null>(
        'Of this the set-up may take',
        [...COMMON_SHARES, { value: null, label: 'typed' }],
        isTyped ? null : setUpShare,
        this.off,
        (share) => {
          this.typesShare = share === null;
          this.shareWhy = '';
          if (share !== null) void this.pen.change({ setUpShare: share });
        },
      )}
      ${
        isTyped
          ? this.text(
              'Share of the set-up, per cent',
              String(Number((setUpShare * 100).toFixed(2))),
              (text) => this.takeShare(text),
              { why: this.shareWhy || this.whyOf('setUpShare') },
            )
          : nothing
      }
    `;
  }

  private takeShare(text: string): void {
    const percent = parseNumber(text.replace('%', ''));
    const fits = percent.ok && percent.value > 0 && percent.value <= 100;
    this.shareWhy = fits ? '' : `"${text}" is not a share between 0 and 100 per cent.`;
    if (fits) void this.pen.change({ setUpShare: percent.value / 100 });
  }
}
