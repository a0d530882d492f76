package main

import (
	"archive/tar"
	"archive/zip"
	"bytes"
	"compress/flate"
	"compress/gzip"
	"io"
	"io/fs"
	"time"
)

// when all files in an archive are from: the bytes do not hang on the clock.
var when = time.Date(2026, time.January, 1, 0, 0, 0, 0, time.UTC)

// stem is the folder in the archive of a system, and its name without the ending.
func (m module) stem(s system) string {
	return "rollchange-" + m.version + "-" + s.os + "-" + s.arch
}

// archive is the name of the archive of a system.
func (m module) archive(s system) string { return m.stem(s) + s.ending() }

// pack is an archive of files in one folder, in the order given, in the format of a
// system. Names, contents and their order decide each byte.
func pack(folder string, s system, all []file) ([]byte, error) {
	if err := check(all); err != nil {
		return nil, err
	}
	var b bytes.Buffer
	var err error
	if s.os == "windows" {
		err = zipped(&b, folder, all)
	} else {
		err = tarred(&b, folder, all)
	}
	return b.Bytes(), err
}

// mode is that of a file: everybody may read it.
func (f file) mode() fs.FileMode {
	if f.runs {
		return 0o755
	}
	return 0o644
}

func zipped(w io.Writer, folder string, all []file) error {
	z := zip.NewWriter(w)
	z.RegisterCompressor(zip.Deflate, func(w io.Writer) (io.WriteCloser, error) { return flate.NewWriter(w, flate.BestCompression) })
	for _, f := range all {
		head := &zip.FileHeader{Name: folder + "/" + f.name, Method: zip.Deflate, Modified: when}
		head.SetMode(f.mode())
		part, err := z.CreateHeader(head)
		if err != nil {
			return err
		}
		if _, err := part.Write(f.data); err != nil {
			return err
		}
	}
	return z.Close()
}

func tarred(w io.Writer, folder string, all []file) error {
	g, err := gzip.NewWriterLevel(w, gzip.BestCompression) // its head has no name and no time
	if err != nil {
		return err
	}
	t := tar.NewWriter(g)
	for _, f := range all {
		head := &tar.Header{Typeflag: tar.TypeReg, Name: folder + "/" + f.name, Size: int64(len(f.data)), Mode: int64(f.mode()), ModTime: when}
		if err := t.WriteHeader(head); err != nil {
			return err
		}
		if _, err := t.Write(f.data); err != nil {
			return err
		}
	}
	if err := t.Close(); err != nil {
		return err
	}
	return g.Close()
}
