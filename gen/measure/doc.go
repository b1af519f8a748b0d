// Package measure stands between what somebody touched and the answer that is
// worked out from it: it takes the points as they are written, with their names and
// places, asks package fit for the frame, the tool centre or the grid, keeps all
// figures beside the answer, and says what they are worth.
//
// There are two kinds of findings. Points that carry no answer are refused at once,
// into the list that the caller gives. What an answer is worth ("Judge") is handed
// back as verdicts, for a check that proves a plan or for the command that works out
// a single answer.
package measure
