import type { Database } from './database.ts';

/**
 * The store's tables, one step a version, each applied once and never changed afterwards. `chunk` is the record
 * itself; the others are found from it and only make it quick to search, but for the bin and the tombstones.
 */
const STEPS: readonly string[] = [
  `CREATE TABLE job (
     id INTEGER PRIMARY KEY,
     key TEXT NOT NULL UNIQUE,
     number INTEGER NOT NULL,
     bench TEXT NOT NULL,
     started_at TEXT NOT NULL,
     last_at TEXT NOT NULL,
     is_open INTEGER NOT NULL DEFAULT 1,
     is_simulated INTEGER NOT NULL,
     origin TEXT NOT NULL DEFAULT 'measured here',
     card TEXT NOT NULL DEFAULT '{}',
     clock_at_ms REAL NOT NULL DEFAULT 0,
     clock_at TEXT NOT NULL DEFAULT '',
     sweeps INTEGER NOT NULL DEFAULT 0,
     entries INTEGER NOT NULL DEFAULT 0,
     readings INTEGER NOT NULL DEFAULT 0,
     signatures INTEGER NOT NULL DEFAULT 0,
     binned_at TEXT,
     job_number TEXT NOT NULL DEFAULT '',
     machine TEXT NOT NULL DEFAULT '',
     operator TEXT NOT NULL DEFAULT '',
     verdict TEXT
   );
   CREATE INDEX job_by_start ON job (started_at DESC, id DESC) WHERE binned_at IS NULL;
   CREATE INDEX job_by_machine ON job (machine, started_at DESC, id DESC) WHERE binned_at IS NULL;
   CREATE INDEX job_by_operator ON job (operator, started_at DESC, id DESC) WHERE binned_at IS NULL;
   CREATE INDEX job_by_verdict ON job (verdict, started_at DESC, id DESC) WHERE binned_at IS NULL;
   CREATE INDEX job_by_number ON job (number, started_at DESC, id DESC) WHERE binned_at IS NULL;
   CREATE INDEX job_by_own_number ON job (job_number, started_at DESC, id DESC)
     WHERE binned_at IS NULL;
   CREATE INDEX job_in_bin ON job (started_at DESC, id DESC) WHERE binned_at IS NOT NULL;
   CREATE VIRTUAL TABLE job_text USING fts5 (words, tokenize = 'unicode61', prefix = '1 2 3');
   CREATE TABLE chunk (
     job_id INTEGER NOT NULL REFERENCES job (id),
     seq INTEGER NOT NULL,
     entries INTEGER NOT NULL,
     readings INTEGER NOT NULL,
     first_at_ms REAL NOT NULL,
     last_at_ms REAL NOT NULL,
     low_mm REAL,
     high_mm REAL,
     body BLOB NOT NULL,
     PRIMARY KEY (job_id, seq)
   );
   CREATE TABLE sweep (
     job_id INTEGER NOT NULL REFERENCES job (id),
     number INTEGER NOT NULL,
     ended_at TEXT NOT NULL,
     from_ms REAL NOT NULL,
     to_ms REAL NOT NULL,
     stage TEXT NOT NULL,
     is_simulated INTEGER NOT NULL,
     verdict TEXT,
     out_of_true_arcsec REAL,
     uncertainty_arcsec REAL,
     expanded_arcsec REAL,
     end_to_end_mm REAL,
     sentence TEXT NOT NULL,
     points TEXT NOT NULL,
     samples INTEGER NOT NULL,
     body BLOB NOT NULL,
     PRIMARY KEY (job_id, number)
   );
   CREATE TABLE tap (
     job_id INTEGER NOT NULL REFERENCES job (id),
     number INTEGER NOT NULL,
     sweep INTEGER NOT NULL,
     step TEXT NOT NULL,
     PRIMARY KEY (job_id, number)
   );
   CREATE TABLE turn (
     job_id INTEGER NOT NULL REFERENCES job (id),
     after INTEGER NOT NULL,
     before INTEGER NOT NULL,
     stage_before TEXT NOT NULL,
     stage_after TEXT NOT NULL,
     turned_arcsec REAL NOT NULL,
     tapped TEXT,
     clamp_changes INTEGER NOT NULL,
     zero_moved TEXT,
     pivot_mm REAL,
     pivot_u_mm REAL,
     PRIMARY KEY (job_id, after)
   );
   CREATE TABLE note (
     job_id INTEGER NOT NULL REFERENCES job (id),
     number INTEGER NOT NULL,
     sweep INTEGER,
     written_at TEXT NOT NULL,
     written_by TEXT NOT NULL,
     text TEXT NOT NULL,
     struck_at TEXT,
     struck_by TEXT,
     struck_why TEXT,
     PRIMARY KEY (job_id, number)
   );
   CREATE TABLE tag (
     job_id INTEGER NOT NULL REFERENCES job (id),
     tag TEXT NOT NULL,
     PRIMARY KEY (job_id, tag)
   );
   CREATE TABLE tombstone (
     key TEXT PRIMARY KEY,
     number INTEGER NOT NULL,
     started_at TEXT NOT NULL,
     last_at TEXT NOT NULL,
     emptied_at TEXT NOT NULL,
     sweeps INTEGER NOT NULL,
     entries INTEGER NOT NULL,
     sha256 TEXT NOT NULL
   );`,
  // Moments worth stepping to, so that a long job need not be opened to find them.
  `CREATE TABLE mark (
     job_id INTEGER NOT NULL REFERENCES job (id),
     at_ms REAL NOT NULL,
     kind TEXT NOT NULL,
     text TEXT NOT NULL
   );
   CREATE INDEX mark_by_time ON mark (job_id, at_ms);
   CREATE TRIGGER marks_go_with_job AFTER DELETE ON job BEGIN
     DELETE FROM mark WHERE job_id = old.id;
   END;`,
];

/** Version of the store that this program writes. */
export const STORE_VERSION = STEPS.length;

/** The store was written by a newer program: reading it could misunderstand it, writing could harm it. */
export class NewerStore extends Error {
  readonly found: number;
  constructor(found: number) {
    super(`store version ${found}, this program knows ${STORE_VERSION}`);
    this.found = found;
  }
}

export function versionOf(db: Database): number {
  return Number(db.get('PRAGMA user_version')?.user_version ?? 0);
}

/** Brings the tables to this program's version, all steps or none. */
export function migrate(db: Database): void {
  const found = versionOf(db);
  if (found > STORE_VERSION) throw new NewerStore(found);
  if (found === STORE_VERSION) return;
  db.inOne(() => {
    for (const step of STEPS.slice(found)) db.exec(step);
    db.exec(`PRAGMA user_version = ${STORE_VERSION}`);
  });
}
