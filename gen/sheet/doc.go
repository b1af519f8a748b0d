// Package sheet writes the job sheet: one page for the shop floor that says what
// a job does, what to touch, what to check and sign before the prove-out, what
// stands where before and after. On a screen it is ticked and filled in, and shows
// the moves in three dimensions.
//
// The page needs no network and no other file. Its content security policy admits
// the style and the script of the page, by their digests, and nothing else. Without
// scripts it is a plain sheet; on paper it fits A4 and Letter. Plan text reaches the
// page as escaped text, and its script as JSON. What is ticked, typed and tapped stays
// in the page's memory until somebody saves it.
package sheet
