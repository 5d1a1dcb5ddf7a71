// Package photo takes a picture from somebody's file so that it can be kept beside
// a session and sent with its ticket.
//
// A file is untrusted. It must be a plain file, of no more than [MostBytes], and
// begin as a JPEG or a PNG does; its size in pixels is read before it is decoded,
// so that a small file can't unfold into gigabytes. What is kept is not the file
// but its pixels, written anew and made smaller: place, time, serial numbers,
// previews and whatever else was hidden in it are not in the copy. How the camera
// was held is the one thing that is read of all that, and the copy is turned by it.
package photo
