/** Service, screens and record: what each code means and what to do, as a table is printed from it. */
export const SERVICE_FAULTS = {
  'record-not-kept':
    'The record cannot be written; measuring goes on, held in memory. Make room or give rights.',
  'record-has-gap':
    'The disk refused for longer than entries can be held (100,000): the oldest are lost. Begin a new job once it takes again, and sweep again.',
  'proof-not-read': 'The kept jobs could not be read. Ask again; if it stays, look at the disk.',
  'job-not-kept':
    'No job of that name is kept here. Look it up under Proof. There is no such job here; `taptrue export` lists them.',
  'sweep-not-kept':
    'A sweep that was named is not kept or has no line. Pick two to twenty from the list under Proof. There is no such sweep in that job.',
  'note-not-there': 'There is no such note, or it is struck out already. Load the job again.',
  'note-empty': 'A note needs a text and who writes it.',
  'job-running': 'The job that is going on cannot go into the bin. Begin a new job first.',
  'writing-held':
    'A note is not on the disk yet; it is tried again by itself. See the fault about the record.',
  'record-not-found':
    'There is no record of that job here. Pick one from the list under Proof, or import it first.',
  'sweep-not-found':
    'That sweep has not ended in this job. Replay the whole job, or pick another sweep.',
  'record-without-beginning':
    'The first piece of the record is damaged; nothing after it can be replayed. Bring back a backup, or import the recording.',
  'record-piece-damaged':
    'A piece of the record was passed over; the rest plays on, results after it may differ. Look through it with `taptrue verify`.',
  'record-not-read':
    'The record of the job could not be read. Try again; then `taptrue verify`, or bring back a backup. The records of a bench cannot be opened by a command; the message says why.',
  'replay-measures-nothing':
    'Nothing is measured in a replay. Go back to the bench; here another setup can be tried.',
  'replay-nothing-further':
    'Nothing of that kind comes after this, or before it. Step the other way.',
  'too-many-replays': 'As many replays are watched as this computer bears. Close one.',
  'replay-closed':
    'The replay is closed, by hand or after a minute without a screen. Open it again.',
  'replay-busy': 'The replay is still busy with what it was asked before. Wait until it stands.',
  'recording-not-read': 'The file of a recording cannot be read: name, rights, disk.',
  'recording-not-ours':
    'The file does not begin as a recording does: give one made with `taptrue export`, unchanged.',
  'recording-newer': 'A newer Taptrue wrote it in a format that is not known here: use that one.',
  'recording-cut-off': 'The end is missing: take the file again from where it was given out.',
  'recording-damaged':
    'It does not fit its end line, in the number of lines or in a single bit: take it again.',
  'recording-line-not-read': 'A line is no JSON in UTF-8: damaged or edited.',
  'recording-line-too-long':
    'A line is longer than any of a recording: another kind of file, or it lost its line ends.',
  'recording-line-not-known': 'An entry does not fit the format; the message names the place.',
  'recording-line-otherwise':
    'A name twice in a line, or written by another program: copy the file unchanged.',
  'recording-out-of-place': 'An entry where it cannot stand: lines are missing or were moved.',
  'recording-out-of-order': 'The clock of the recording goes back: lines were moved.',
  'recording-not-recomputed':
    'The recorded figures do not come out of their own readings. Do not trust them; `taptrue replay` shows both.',
  'recording-other-here':
    'A job of that key is kept here with another content; both fingerprints are told. Import it into a bench of its own.',
  'recording-too-large': 'Too large for the page: `taptrue import FILE`.',
  'recording-being-taken-in': 'One recording at a time is taken in through the page: wait.',
  'recording-not-taken-in': 'The recording could not be written here: room, rights.',
  'signature-not-true':
    'The fingerprint of a signature does not fit the lines before it: changed after signing.',
  'no-result-to-print': 'The job has no sweep with a result yet: sweep, then print.',
  'signature-no-name': 'Write who signs.',
  'being-signed': 'Someone signs at this moment: wait and sign again.',
  'nothing-to-sign':
    'There is no final sweep, something happened since, or the record is not on the disk.',
  'backup-not-made':
    'The backup could not be written, or a file of that name is there: name another place.',
  'backup-not-usable': 'The file is not a whole record of this program.',
  'not-restored':
    'The backup could not be put in place; what was there is still there or beside it.',
  'job-taken-up':
    'The service was ended and started again; the job goes on where it stood. Sweep again if anything may have been touched.',
  'job-not-taken-up':
    'The job that was going on could not be read back; a new one is begun. Sweep again; `taptrue verify` says what can still be read.',
  'folder-in-use':
    'Another Taptrue keeps its records in this folder. Use its page, end it, or give this one another name or folder.',
  'memory-not-read':
    'What the bench remembered could not be read; it starts afresh, the old file is kept aside.',
  'memory-not-kept': 'What the bench remembers could not be written.',
  'only-watching': 'This screen may only watch: pair it.',
  'pairing-off': 'The bench listens to this computer only: `--listen`.',
  'pairing-code-wrong': 'Not the code on the bench screen.',
  'pairing-rests': 'Too many wrong codes; wait a minute.',
  'too-many-tablets': 'Sixteen are paired: remove one.',
  'tablet-not-known': 'That tablet was removed already.',
  'bench-screen-only': 'Do this on the computer the service runs on.',
  'host-not-ours': 'Called by a name the bench does not answer to: use the printed address.',
  'origin-not-ours': 'A page of another site tried to reach the bench.',
  'message-not-understood': 'A command that does not fit the schema: load the page again.',
  'no-such-address': 'There is nothing at this address: open the page at `/`.',
  'fault-of-ours': 'The service failed at this: try again, else restart it and report it.',
  'answer-not-understood': 'The service answered in another version: load the page again.',
  'service-not-reached': 'The page cannot reach the service: is it running?',
  'command-not-here': 'The page and the service are of different versions.',
  'page-not-built': 'Start with `npm start`, which builds the page.',
  'service-ends': 'The service is being ended; start it again, and the job goes on where it stood.',
  'no-demo': 'There is no simulated bench in this service: start it with `--demo`.',
  'demo-beyond-table': 'The simulated table does not go that far.',
  'demo-mallet-misses': 'The mallet would miss the simulated vise.',
  'demo-stylus-off': 'The simulated stylus touches nothing.',
  'no-browser':
    'No Chromium, Chrome or Edge prints the PDF here. Write the sheet as .html, or name a browser by `TAPTRUE_CHROMIUM`.',
  'print-failed': 'The browser could not print the sheet. Write it as .html and print that.',
  'place-not-loaded':
    'A part of the page could not be loaded. See whether the service runs, then load the page again.',
  'folder-lock-not-read':
    'The lock of the folder is damaged, so another Taptrue may be running on it. End every Taptrue, delete the file that is named, start again.',
} as const;
