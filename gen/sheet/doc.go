// Package sheet writes the job sheet: one page for the shop floor that says what
// a job does, what to touch, what to check and sign before the first run, what
// stands where before and after, and lets one step through the moves.
//
// The page needs nothing but itself: no network, no other file. Its own policy
// lets in the style and the script that stand in it, by their digests, and
// nothing else. Without scripts it is a plain sheet; on paper it fits A4 and
// Letter. Plan text reaches the page as escaped text, and the player as JSON.
package sheet
