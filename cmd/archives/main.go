// Command archives makes what is handed to users: for each system an archive of the
// program, its documents, its licences and the shipped scenarios, and the checksums
// of all.
//
//		go run ./cmd/archives -o DIR [-systems linux/amd64,windows/arm64]
//
//	 1. contents.go gathers what is the same on all systems.
//	 2. build.go makes the program of each, without anything of this machine in it.
//	 3. pack.go packs both: the same sources and the same Go give the same bytes.
//
// Each file in DIR is written whole or not at all, the checksums last.
package main

import (
	"bytes"
	"context"
	"crypto/sha256"
	"errors"
	"flag"
	"fmt"
	"io"
	"os"
	"os/signal"
	"path/filepath"
	"syscall"

	"rollchange/model/legible"
	"rollchange/out/files"
)

const (
	exitBad         = 2
	exitInterrupted = 130
)

// sums is the file of the checksums; sha256sum -c reads it.
const sums = "SHA256SUMS"

func main() {
	ctx, stop := signal.NotifyContext(context.Background(), os.Interrupt, syscall.SIGTERM)
	code := execute(ctx, ".", os.Args[1:], os.Stdout, os.Stderr)
	stop()
	os.Exit(code)
}

// execute makes the archives of the module that a folder is in, and returns the exit
// code. What was written goes to stdout, everything else to stderr.
func execute(ctx context.Context, folder string, args []string, stdout, stderr io.Writer) int {
	run := files.New(ctx, nil, stdout, stderr)
	err := archives(ctx, run, folder, args, stdout, stderr)
	run.Close(err == nil)
	switch {
	case ctx.Err() != nil:
		fmt.Fprintln(stderr, "archives: "+run.Interrupted())
		return exitInterrupted
	case errors.Is(err, flag.ErrHelp):
		return 0
	case err != nil:
		fmt.Fprintf(stderr, "archives: %v\n", err)
		return exitBad
	}
	return 0
}

func archives(ctx context.Context, run *files.Run, folder string, args []string, stdout, stderr io.Writer) error {
	flags := flag.NewFlagSet("archives", flag.ContinueOnError)
	flags.SetOutput(stderr)
	to := flags.String("o", "", "the folder that the archives are written to; made where it is not there")
	named := flags.String("systems", "", "which, with commas between; all: "+listed(systems))
	if err := flags.Parse(args); err != nil {
		if errors.Is(err, flag.ErrHelp) {
			return err
		}
		return fmt.Errorf("%w; archives -h lists the flags", err)
	}
	switch {
	case flags.NArg() > 0:
		return fmt.Errorf("%s: there are flags only; archives -h lists them", legible.Quote(flags.Arg(0)))
	case *to == "":
		return errors.New("-o DIR is needed: the folder that the archives are written to")
	}
	chosen, err := choose(*named)
	if err != nil {
		return err
	}
	m, err := findModule(ctx, folder)
	if err != nil {
		return err
	}
	same, err := m.contents()
	if err != nil {
		return err
	}
	if err := run.Folder(*to); err != nil {
		return err
	}
	place := func(name string) string { return filepath.Join(*to, name) }
	for _, s := range chosen {
		if err := run.Writes(place(m.archive(s)), "-o"); err != nil {
			return err
		}
	}
	if err := run.Writes(place(sums), "-o"); err != nil {
		return err
	}
	// All are made before the first is written: where one cannot be, none is there.
	packed := make([][]byte, len(chosen))
	for i, s := range chosen {
		fmt.Fprintln(stderr, "archives: building", s)
		program, err := m.build(ctx, s)
		if err != nil {
			return err
		}
		if err := licensed(program, same); err != nil {
			return fmt.Errorf("%s: %w", s, err)
		}
		if packed[i], err = pack(m.stem(s), s, append([]file{program}, same...)); err != nil {
			return err
		}
	}
	var list bytes.Buffer
	for i, s := range chosen {
		fmt.Fprintf(&list, "%x  %s\n", sha256.Sum256(packed[i]), m.archive(s))
		if err := save(run, place(m.archive(s)), packed[i]); err != nil {
			return err
		}
		fmt.Fprintf(stdout, "%s, %.1f MB\n", place(m.archive(s)), float64(len(packed[i]))/1e6)
	}
	if err := save(run, place(sums), list.Bytes()); err != nil {
		return err
	}
	_, err = fmt.Fprintln(stdout, place(sums))
	return err
}

func save(run *files.Run, name string, data []byte) error {
	return run.Save(name, func(w io.Writer) error {
		_, err := w.Write(data)
		return err
	})
}
