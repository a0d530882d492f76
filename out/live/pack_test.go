package live

import (
	"math/big"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/assert"
)

// Packed text is read again as a number of base 94 by other arithmetic, and none of its
// letters can end the element that it stands in.
func TestPackedIsANumberOfBase94(t *testing.T) {
	r := rand.New(rand.NewPCG(1, 2))
	for n := range 60 {
		data := make([]byte, n)
		for i := range data {
			data[i] = byte(r.IntN(256))
			if n%4 == 0 {
				data[i] = 255 // the largest number of a group
			}
		}
		text := packed(data)
		assert.Regexp(t, `^[ -;=-~]*$`, text)
		var read []byte
		for ; text != ""; text = text[groupLetters:] {
			x := new(big.Int)
			for _, c := range []byte(text[:groupLetters]) {
				digit := int64(c) - ' '
				if c > '<' {
					digit--
				}
				x.Add(x.Mul(x, big.NewInt(letters)), big.NewInt(digit))
			}
			read = append(read, x.FillBytes(make([]byte, groupBytes))...)
		}
		assert.Equal(t, data, append([]byte{}, read[:n]...))
	}
}
