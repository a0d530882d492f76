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
	"runtime/debug"
	"syscall"
	"time"

	"rollchange/model/legible"
	"rollchange/out/files"
	"rollchange/sim/replicate"
)

// Exit codes are an interface.
const (
	exitAnswered    = 0
	exitNotMet      = 1 // finished, but a stated target is not met
	exitBad         = 2 // bad use or bad input
	exitInterrupted = 130
)

// garbage is by how much the heap may grow before it is collected, %: a run is short. A
// report takes 10 to 20 % less time so, for 60 MB more.
const garbage = 400

func main() {
	if os.Getenv("GOGC") == "" {
		debug.SetGCPercent(garbage)
	}
	ctx, stop := signal.NotifyContext(context.Background(), os.Interrupt, syscall.SIGTERM)
	defer stop()
	run := files.New(ctx, os.Stdin, os.Stdout, os.Stderr)
	context.AfterFunc(ctx, func() {
		// Whatever does not look at ctx gets a moment, then the process ends.
		time.Sleep(300 * time.Millisecond)
		run.Abandon()
		fmt.Fprintln(os.Stderr, "rollchange: "+run.Interrupted())
		os.Exit(exitInterrupted)
	})
	// A report asks about one line again and again; 4,000 replications take some 20 MB.
	memory, tidy := replicate.NewMemory(4000, nil), func() {}
	if store := cache(); store != nil {
		memory, tidy = replicate.NewMemory(4000, store), store.Tidy
	}
	code := executeWith(replicate.WithMemory(ctx, memory), run, os.Args[1:], os.Stdin, os.Stderr)
	tidy()
	os.Exit(code)
}

// errNotMet ends a command whose answer is that a stated target is not met.
var errNotMet = errors.New("target not met")

// execute runs the command line and returns the exit code. The answer goes to
// stdout, everything else to stderr.
func execute(ctx context.Context, args []string, stdin io.Reader, stdout, stderr io.Writer) int {
	return executeWith(ctx, files.New(ctx, stdin, stdout, stderr), args, stdin, stderr)
}

// executeWith does so with the files of the run. Nothing reaches standard output
// or standard error that could harm a terminal.
func executeWith(ctx context.Context, run *files.Run, args []string, stdin io.Reader, stderr io.Writer) int {
	answer, told := legible.NewWriter(run.Stdout(), useColor(run.Stdout())), legible.NewWriter(stderr, false)
	root := newRoot()
	root.SetArgs(append([]string{}, args...)) // nil would mean those of the process
	root.SetIn(stdin)
	root.SetOut(answer)
	root.SetErr(told)
	root.InitDefaultHelpCmd()
	root.InitDefaultCompletionCmd()
	err := knownCommand(root, args)
	if err == nil {
		err = root.ExecuteContext(withFiles(ctx, run))
	}
	if flushed := answer.Flush(); err == nil {
		err = flushed
	}
	defer told.Flush()
	if err == nil || errors.Is(err, errNotMet) {
		run.Whole()
	}
	run.Close(err == nil || errors.Is(err, errNotMet))
	switch {
	case ctx.Err() != nil:
		fmt.Fprintln(told, "rollchange: "+run.Interrupted())
		return exitInterrupted
	case err == nil:
		return exitAnswered
	case errors.Is(err, errNotMet):
		return exitNotMet
	}
	fmt.Fprintln(told, err)
	return exitBad
}
