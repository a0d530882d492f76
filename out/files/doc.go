// Package files keeps the files of one run apart: what it reads, what it
// writes, and what it has written so far.
//
//  1. The command says what it will read (Run.Reads) and write (Run.Writes),
//     before any work. An output that is an input, another output or that cannot
//     be written is refused there (place.go says when two names are one file,
//     names.go which names Windows does not take).
//  2. Run.Save writes a file whole or not at all: into a temporary file beside
//     it, which takes its name when everything is on the disk (save.go). A link
//     stays, and what it points to is written; what is no regular file is
//     written straight.
//     On Windows a file that another program has open is waited for, shortly
//     (busy.go).
//  3. A temporary file is locked as long as the process lives. What one that was
//     killed has left is found by its name and the lock that is gone, and is
//     taken away by the next run that writes beside it (temporary.go).
//  4. Interrupted, the run takes its temporary files away (Run.Abandon) and says
//     what was written and what was not (Run.Interrupted).
package files
