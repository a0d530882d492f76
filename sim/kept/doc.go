// Package kept keeps what simulations came to on the disk, so that a question that is
// asked again is answered at once. It knows bytes only, by line and by what of it.
//
//  1. A folder holds one folder for each program that has kept anything (program.go):
//     another version, or the same on a processor that calculates otherwise, finds
//     nothing of it.
//  2. In it is one file for each line (file.go), to which records are appended. A
//     record that is torn or changed is told by its checksum and passed over.
//  3. Store (store.go) hands out what it finds and appends what is new. Two processes
//     may do so at once.
//  4. Tidy (tidy.go) keeps the folder within its size and age.
//
// Nothing in here is an error: what cannot be read is not known, and what cannot be
// written is not kept.
package kept
