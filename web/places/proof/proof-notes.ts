import { type JobDetail, MOST_NAME, MOST_NOTE, type NoteRow } from '@taptrue/protocol';
import { html, nothing } from 'lit';
import { customElement, property, state } from 'lit/decorators.js';
import { live } from 'lit/directives/live.js';
import type { BenchHandle } from '../../parts/controls/bench-handle.ts';
import { PlainElement } from '../../parts/controls/plain-element.ts';
import type { Screen } from '../../state/latest-state.ts';
import { whenText } from './local-time.ts';
import './ask-twice.ts';

/** Notes and tags of a job. What is struck out stays to be read. Fires `written`. */
@customElement('proof-notes')
export class ProofNotes extends PlainElement {
  @property({ attribute: false }) handle!: BenchHandle;
  @property({ attribute: false }) screen!: Screen;
  @property({ attribute: false }) job!: JobDetail;
  @state() private text = '';
  /** null: the operator on the card, until something else is typed. */
  @state() private by: string | null = null;
  @state() private sweep = '';
  @state() private tag = '';
  @state() private striking: number | null = null;
  @state() private strikeWhy = '';

  override render() {
    const { job } = this;
    return html`<section class="proof-part" aria-label="Notes and tags">
      <h2>Notes and tags</h2>
      <ol class="proof-notes">${job.notesOf.map((note) => this.renderNote(note))}</ol>
      ${this.renderWriting()}
      ${this.renderTags()}
    </section>`;
  }

  private get off(): boolean {
    return !this.screen.mayCommand || this.job.binnedAt !== null;
  }

  private get writer(): string {
    return this.by ?? this.screen.state.card.operator;
  }

  private renderNote(note: NoteRow) {
    const of = note.sweep === null ? '' : `, sweep ${note.sweep}`;
    const text =
      note.struck === null ? html`<p>${note.text}</p>` : html`<p><s>${note.text}</s></p>`;
    return html`<li>
      ${text}
      <p class="field-note">Note ${note.number}${of}: ${note.by}, ${whenText(note.writtenAt)}</p>
      ${
        note.struck === null
          ? this.renderStrike(note)
          : html`<p class="field-note">Struck out by ${note.struck.by}, ${whenText(note.struck.at)}${note.struck.why === '' ? '' : `: ${note.struck.why}`}</p>`
      }
    </li>`;
  }

  private renderStrike(note: NoteRow) {
    if (this.striking !== note.number)
      return html`<button type="button" class="act" ?disabled=${this.off} aria-label="Strike out note ${note.number}" @click=${() => {
        this.striking = note.number;
        this.strikeWhy = '';
      }}>Strike out</button>`;
    return html`<div class="amount">
      <div class="proof-wide">
        <label for="strike-why">Why is it wrong?</label>
        <input id="strike-why" maxlength=${MOST_NOTE} .value=${live(this.strikeWhy)} @input=${(
          event: Event,
        ) => {
          this.strikeWhy = typedIn(event);
        }} />
      </div>
      <button type="button" class="act" ?disabled=${this.off || this.writer.trim() === ''} @click=${() => void this.strike(note.number)}>
        Strike it out${this.writer.trim() === '' ? ' (say who writes, below)' : `, ${this.writer}`}
      </button>
      <button type="button" class="act" @click=${() => {
        this.striking = null;
      }}>Leave it</button>
    </div>`;
  }

  private renderWriting() {
    const { job } = this;
    const lacks = this.text.trim() === '' || this.writer.trim() === '';
    return html`<form class="amount" @submit=${(event: Event) => {
      event.preventDefault();
      if (!lacks && !this.off) void this.write();
    }}>
      <div class="proof-wide">
        <label for="note-text">New note</label>
        <input id="note-text" autocomplete="off" maxlength=${MOST_NOTE} ?disabled=${this.off} .value=${live(this.text)} @input=${(
          event: Event,
        ) => {
          this.text = typedIn(event);
        }} />
      </div>
      <div>
        <label for="note-of">About</label>
        <select id="note-of" ?disabled=${this.off} @change=${(event: Event) => {
          this.sweep = typedIn(event);
        }}>
          <option value="" ?selected=${this.sweep === ''}>the whole job</option>
          ${job.all.map(({ number }) => html`<option value=${number} ?selected=${this.sweep === String(number)}>sweep ${number}</option>`)}
        </select>
      </div>
      <div>
        <label for="note-by">Who writes</label>
        <input id="note-by" autocomplete="off" maxlength=${MOST_NAME} placeholder="name or initials" ?disabled=${this.off} .value=${live(this.writer)} @input=${(
          event: Event,
        ) => {
          this.by = typedIn(event);
        }} />
      </div>
      <button type="submit" class="act" ?disabled=${this.off || lacks}>Write it down</button>
    </form>`;
  }

  private renderTags() {
    const { job } = this;
    return html`<form class="amount" @submit=${(event: Event) => {
      event.preventDefault();
      if (this.tag.trim() !== '' && !this.off) void this.setTag(this.tag, true);
    }}>
      ${job.tags.map(
        (
          tag,
        ) => html`<button type="button" class="act" ?disabled=${this.off} @click=${() => void this.setTag(tag, false)}>
          <span class="proof-tag">${tag}</span> take off</button>`,
      )}
      <div>
        <label for="new-tag">Tag to find it by</label>
        <input id="new-tag" autocomplete="off" maxlength="40" placeholder="such as: first piece" ?disabled=${this.off} .value=${live(this.tag)} @input=${(
          event: Event,
        ) => {
          this.tag = typedIn(event);
        }} />
      </div>
      <button type="submit" class="act" ?disabled=${this.off || this.tag.trim() === ''}>Add the word</button>
    </form>
    ${job.binnedAt === null ? nothing : html`<p class="field-note">In the bin nothing is written: take the job out first.</p>`}`;
  }

  private async write(): Promise<void> {
    const sweep = this.sweep === '' ? null : Number(this.sweep);
    const { key: job } = this.job;
    const answer = await this.handle.command({
      kind: 'write note',
      job,
      sweep,
      by: this.writer,
      text: this.text,
    });
    if (!answer.ok) return;
    this.text = '';
    this.fire();
  }

  private async strike(number: number): Promise<void> {
    const answer = await this.handle.command({
      kind: 'strike note',
      job: this.job.key,
      number,
      by: this.writer,
      why: this.strikeWhy,
    });
    if (!answer.ok) return;
    this.striking = null;
    this.fire();
  }

  private async setTag(tag: string, on: boolean): Promise<void> {
    const command = {
      kind: 'tag job',
      job: this.job.key,
      tag: tag.trim(),
      on,
      by: this.writer,
    } as const;
    const answer = await this.handle.command(command);
    if (!answer.ok) return;
    this.tag = '';
    this.fire();
  }

  private fire(): void {
    this.dispatchEvent(new CustomEvent('written'));
  }
}

function typedIn(event: Event): string {
  return (event.target as HTMLInputElement | HTMLSelectElement).value;
}
