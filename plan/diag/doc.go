// Package diag holds findings: what is wrong with a file, where, and what to do about it.
//
// Every stage adds its findings to a List and goes on, so that one run shows a person everything there is to correct. They are
// sorted by place and printed here, by Print for people, by PrintJSON for programs and by PrintGitHub beside the lines of a pull
// request; package gen/sarif writes them with the pages of their rules.
package diag
