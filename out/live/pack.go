package live

import "strings"

// The engine stands in the page as text of 94 letters, those of ASCII that can be seen
// and the space, but without "<": 9 bytes in 11 letters, since 94^11 is a little more than
// 256^9. Base 64 would take 4 letters for 3 bytes, a tenth more.
const (
	groupBytes   = 9
	groupLetters = 11
	letters      = 94
)

// letter is the letter of a digit: a space, then from "!" on without "<".
func letter(digit byte) byte {
	if c := ' ' + digit; c < '<' {
		return c
	}
	return ' ' + digit + 1
}

// packed is data as text; the last group is filled up with zeros.
func packed(data []byte) string {
	var b strings.Builder
	b.Grow((len(data)/groupBytes + 1) * groupLetters)
	for ; len(data) > 0; data = data[min(groupBytes, len(data)):] {
		var group [groupBytes]byte
		copy(group[:], data)
		var text [groupLetters]byte
		for i := groupLetters - 1; i >= 0; i-- { // divide by 94, the last digit first
			rest := 0
			for k, x := range group {
				rest = rest<<8 | int(x)
				group[k] = byte(rest / letters)
				rest %= letters
			}
			text[i] = letter(byte(rest))
		}
		b.Write(text[:])
	}
	return b.String()
}
