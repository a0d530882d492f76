package kept

import (
	"bytes"
	"crypto/sha256"
	"encoding/hex"
	"fmt"
	"hash"
	"io"
	"math"
	"os"
	"runtime"
)

// nameOf tells the program in a file, on this processor, from all that might calculate
// otherwise; false when the file cannot be read.
func nameOf(path string) (string, bool) {
	f, err := os.Open(path)
	if err != nil {
		return "", false
	}
	defer f.Close()
	h := sha256.New()
	fmt.Fprintln(h, runtime.GOOS, runtime.GOARCH)
	calculated(h)
	head := make([]byte, 64<<10)
	n, err := io.ReadFull(f, head)
	if err != nil && err != io.ErrUnexpectedEOF {
		return "", false
	}
	if id := buildID(head[:n]); id != nil {
		h.Write(id)
	} else { // it was linked without: all of it
		h.Write(head[:n])
		if _, err := io.Copy(h, f); err != nil {
			return "", false
		}
	}
	return hex.EncodeToString(h.Sum(nil)[:keySize]), true
}

// calculated writes what the processor makes of functions whose last digit hangs on
// which instructions it has.
func calculated(h hash.Hash) {
	for k := range 64 {
		x := 0.37 * float64(k+1)
		for _, y := range []float64{math.Exp(-x), math.Log(x), math.Pow(x, 1.7), math.Hypot(x, 1.3), math.Sin(x), math.Sqrt(x), math.Log1p(x), math.Expm1(x)} {
			fmt.Fprintf(h, "%x ", math.Float64bits(y))
		}
	}
}

// buildID is the identity that the Go linker gives a program at its head, four hashes
// of 20 characters of what it was made from and of itself; nil when there is none.
func buildID(head []byte) []byte {
	const part, parts = 20, 4
	const size = parts*(part+1) - 1
	for {
		i := bytes.IndexByte(head, '/')
		if i < 0 {
			return nil
		}
		if from := i - part; from >= 0 && from+size <= len(head) {
			id := head[from : from+size]
			if all := bytes.Split(id, []byte("/")); len(all) == parts && !bytes.ContainsFunc(id, other) && same(all, part) {
				return id
			}
		}
		head = head[i+1:]
	}
}

func same(list [][]byte, size int) bool {
	for _, x := range list {
		if len(x) != size {
			return false
		}
	}
	return true
}

// other says that a character is in no build ID.
func other(r rune) bool {
	return !(r >= 'a' && r <= 'z' || r >= 'A' && r <= 'Z' || r >= '0' && r <= '9' || r == '-' || r == '_' || r == '/')
}
