package kept

import (
	"bytes"
	"crypto/sha256"
	"encoding/binary"
)

// A record is a mark, the sum of what follows it, the key, how long the data are, and
// the data.
const (
	sumSize  = 16
	keySize  = 16
	headSize = len(mark) + sumSize + keySize + 4
)

// mark begins a record; where one is torn, the next is found by it.
const mark = "\xffkept\r\n\x00"

type key [keySize]byte

// keyOf is the key of a text.
func keyOf(text string) key {
	sum := sha256.Sum256([]byte(text))
	return key(sum[:keySize])
}

// record is the bytes of one.
func record(k key, data []byte) []byte {
	b := make([]byte, headSize, headSize+len(data))
	copy(b, mark)
	at := len(mark) + sumSize
	copy(b[at:], k[:])
	binary.LittleEndian.PutUint32(b[at+keySize:], uint32(len(data)))
	b = append(b, data...)
	sum := sha256.Sum256(b[at:])
	copy(b[len(mark):], sum[:sumSize])
	return b
}

// records are the data of a file by their keys; what is not whole is left out.
func records(b []byte) map[key][]byte {
	list := map[key][]byte{}
	for {
		i := bytes.Index(b, []byte(mark))
		if i < 0 || len(b)-i < headSize {
			return list
		}
		b = b[i:]
		body := b[len(mark)+sumSize:]
		n := int64(binary.LittleEndian.Uint32(body[keySize:]))
		if n <= int64(len(b)-headSize) {
			body = body[:keySize+4+n]
			sum := sha256.Sum256(body)
			if bytes.Equal(sum[:sumSize], b[len(mark):len(mark)+sumSize]) {
				list[key(body)] = body[keySize+4:]
				b = b[headSize+int(n):]
				continue
			}
		}
		b = b[len(mark):]
	}
}
