/**
 * A stream of ten a second or more ends two lines in this time, whatever moment it begins at: the first may
 * be a part of one, the second is whole. Then it is listened on.
 */
export const QUICK_MS = 260;
/** Seven lines of ten a second. */
export const QUICK_LONGEST_MS = 750;
/** One line a second ends within. */
export const SLOW_MS = 1100;
export const SLOW_LONGEST_MS = 2600;
/**
 * Home-made bridges start anew when DTR rises and are silent for about two seconds. So long the first, likeliest
 * speed is listened to after the control lines were changed.
 */
export const WAKES_WITHIN_MS = 3000;
/** A socket has nothing to try; it is given as long as a port has for all its settings. */
export const SOCKET_QUICK_MS = 2500;
export const SOCKET_SLOW_MS = 6000;
/** With one reading heard: whether another comes by itself. */
export const ANOTHER_WITHIN_MS = 1600;
/** Where a part of a line came in that time, the next whole one ends within. */
export const ANOTHER_LONGEST_MS = 3200;
/** Between a request's last bit and its answer's first; most answer within a tenth of a second. */
export const ANSWER_BEGINS_WITHIN_MS = 100;
/** Longest answer that is waited for, in bits on the wire: 20 characters of 11 bits. */
export const ANSWER_BITS = 220;
/** Silence that ends what one press of a key sends; bridged by no device that still sends its line. */
export const KEY_LINE_OVER_MS = 300;
/** How long each setting waits for a press: hands press every two seconds or so. */
export const KEY_FIRST_MS = 10_000;
export const KEY_EACH_MS = 4000;
/** Before the first request the line must be silent for this long: what comes after it is an answer. */
export const IDLE_BEFORE_ASKING_MS = 60;
/**
 * After opening, until the status lines are looked at: adapters take some milliseconds to set DTR and RTS, and a
 * lead fed by them some tens to charge (common practice, no source). Less than the shortest listening.
 */
export const LEAD_SHOWS_AFTER_MS = 150;
/** A gap between two lines; within a line none is so long, adapters hold bytes back for 16 ms. */
export const LINE_RESUMES_AFTER_MS = 50;
/** A question is kept fresh so often by asking the device again. */
export const ASK_AGAIN_MS = 500;
/** More than this is no measuring device: 921,600 baud carries 92 kB a second. */
export const TOO_MUCH_BYTES_PER_SECOND = 250_000;
export const TOO_MUCH_AFTER_MS = 250;
/** Longest a port may take to open. */
export const OPENING_WITHIN_MS = 5000;
/** Of a device that sends three lines a second or more, five whole ones to teach a shape from. */
export const PLAIN_TEXT_MS = 2000;
