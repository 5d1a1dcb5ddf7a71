// Package session keeps walks on disk, so that a dead laptop loses nothing that
// was confirmed on screen.
//
// # The file
//
// One session is one file, ID.jsonl, in the folder of a [Store]. It is only ever
// appended to. Every line is a JSON object whose last member is the checksum of
// all that stands before it in the line:
//
//	{"format":2,"id":"1nb5w2q-7tm","created":"2026-03-01T09:30:00Z","program":"1.0","units":"metric","knowledge":{...},"rig":{...},"sum":"0a1b2c3d"}
//	{"n":1,"at":"2026-03-01T09:30:05Z","event":{"kind":"complaint","symptom":"hot-joint",...},"sum":"..."}
//	{"n":2,"at":"2026-03-01T09:31:10Z","note":"the cover was already off","sum":"..."}
//	{"n":3,"at":"2026-03-01T09:31:12Z","printed":{"text":"LIKELY: ...","finding":"worn-holder"},"sum":"..."}
//	{"n":4,"at":"2026-03-01T09:32:40Z","photo":{"file":"photo-1.jpg","width":1600,"height":1200,"sha256":"..."},"sum":"..."}
//
// The first line is the [Header]. The others are entries: an event of the walk, a
// note, a photo, or what was concluded and printed. The last is there to be read and never
// to resume from: resuming replays the events and concludes again. Entries are
// numbered from 1 without gaps. The checksum is CRC-32C (Castagnoli) in eight
// lower-case hexadecimal digits, over the bytes from the opening brace up to the
// comma before "sum". It finds every single flipped bit and every burst of up to
// 32; it is no seal against somebody who means to change a session.
//
// # What is promised
//
//   - Append has the line on disk before it returns nil. When it fails, the
//     journal stands as it stood before and the entry is still the caller's.
//   - A last line without its newline was being written when the power went. It
//     was never confirmed, is left out, is reported, and is cut off before the
//     next line is appended.
//   - Any other line that is not as it was written is damage. What can be read is
//     read, the rest is reported by line, nothing is overwritten, and the session
//     takes no further entry ([DamagedError]).
//   - One writer at a time, by a lock of the operating system on ID.lock that ends
//     with its process ([BusyError]). Reading needs no lock.
//   - A photo's copy is in the folder ID.photos before the line that names it is
//     written. A copy that is gone or changed is left out of tickets, and said.
//   - The clock is data. Nothing here orders or refuses by it.
//   - A file of a newer format is refused by name ([NewerError]) and not touched;
//     format 1 stays readable for good.
//
// # Lists
//
// With many sessions, what each came to is kept in one file beside them,
// summaries.cache: a line for each, sealed as those of a journal, that counts while
// the journal has the same size and time of change. It is never trusted over a
// journal, and can be thrown away.
//
// Files are private to the user: the folder is 0700, files are 0600. An id is
// checked at every use and cannot name anything outside the folder; what is no
// plain file (a link, a pipe, a device) is refused.
package session
