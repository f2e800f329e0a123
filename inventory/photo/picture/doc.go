// Package picture makes of a photo as a camera wrote it the picture that a workshop keeps: upright, no longer than 1600
// pixels, and without a word about where, when and with what it was taken.
//
// A picture is judged by its first bytes before it is decoded: what is no picture, what is longer than [MostBytes] and
// what would unfold to more than [MostPixels] is refused in one sentence. One is read at a time, so that the memory is
// that of one.
package picture
