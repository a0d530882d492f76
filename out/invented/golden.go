package invented

import (
	"bytes"
	"encoding/csv"
	"flag"
	"io"
	"os"
	"path/filepath"
	"strings"
	"testing"
)

var update = flag.Bool("update", false, "write the golden files anew")

// Golden compares what was written with a file of testdata.
func Golden(t *testing.T, name string, got []byte) {
	t.Helper()
	path := filepath.Join("testdata", name)
	if *update {
		if err := os.WriteFile(path, got, 0o644); err != nil {
			t.Fatal(err)
		}
	}
	want, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	if !bytes.Equal(got, want) {
		t.Errorf("%s differs; got\n%s\nwant\n%s", path, got, want)
	}
}

// Rows are the lines of a CSV, every one as long as the first.
func Rows(t *testing.T, s string) [][]string {
	t.Helper()
	list, err := csv.NewReader(strings.NewReader(s)).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	return list
}

// Written is what a writer of an output writes.
func Written(t *testing.T, write func(w io.Writer) error) string {
	t.Helper()
	var b bytes.Buffer
	if err := write(&b); err != nil {
		t.Fatal(err)
	}
	return b.String()
}
