// Package diag holds findings: what is wrong with a file, where, and what to do about it.
//
// Every stage adds its findings to a List and goes on, so that one run shows a person everything there is to correct. They are
// sorted by place and printed here alone, by Print for people and by PrintJSON for programs.
package diag
