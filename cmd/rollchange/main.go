// Command rollchange reads a description of a roll-to-roll line and its
// alternatives and says what each makes, where its hours and its web go, and
// how sure that is.
//
// The flow is the import graph: scenarios reads a file into a model.Study, sim
// runs it, out writes tables, files and pictures; one file here for each
// command.
package main

import (
	"context"
	"errors"
	"fmt"
	"io"
	"os"
	"os/signal"
	"syscall"
	"time"
)

// Exit codes are an interface.
const (
	exitAnswered    = 0
	exitNotMet      = 1 // finished, but a stated target is not met
	exitBad         = 2 // bad use or bad input
	exitInterrupted = 130
)

func main() {
	ctx, stop := signal.NotifyContext(context.Background(), os.Interrupt, syscall.SIGTERM)
	defer stop()
	context.AfterFunc(ctx, func() {
		// Whatever does not look at ctx gets a moment, then the process ends.
		time.Sleep(300 * time.Millisecond)
		fmt.Fprintln(os.Stderr, "rollchange: interrupted, nothing written")
		os.Exit(exitInterrupted)
	})
	os.Exit(execute(ctx, os.Args[1:], os.Stdin, os.Stdout, os.Stderr))
}

// errNotMet ends a command whose answer is that a stated target is not met.
var errNotMet = errors.New("target not met")

// execute runs the command line and returns the exit code. The answer goes to
// stdout, everything else to stderr.
func execute(ctx context.Context, args []string, stdin io.Reader, stdout, stderr io.Writer) int {
	root := newRoot()
	root.SetArgs(append([]string{}, args...)) // nil would mean those of the process
	root.SetIn(stdin)
	root.SetOut(stdout)
	root.SetErr(stderr)
	err := root.ExecuteContext(ctx)
	switch {
	case ctx.Err() != nil:
		fmt.Fprintln(stderr, "rollchange: interrupted, nothing written")
		return exitInterrupted
	case err == nil:
		return exitAnswered
	case errors.Is(err, errNotMet):
		return exitNotMet
	}
	fmt.Fprintln(stderr, err)
	return exitBad
}
