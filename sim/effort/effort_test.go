package effort

import (
	"flag"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

func TestShortGoesBeforeLong(t *testing.T) {
	before := flag.Lookup("test.short").Value.String()
	defer func() { require.NoError(t, flag.Set("test.short", before)) }()
	for _, c := range []struct {
		short, long string
		want        int
	}{{"false", "", 2}, {"false", "0", 2}, {"false", "1", 3}, {"true", "", 1}, {"true", "1", 1}} {
		require.NoError(t, flag.Set("test.short", c.short))
		t.Setenv(Variable, c.long)
		assert.Equal(t, c.want, Of(1, 2, 3), "%v", c)
		assert.Equal(t, c.want == 3, Long())
		assert.Len(t, Some([]int{7, 8, 9}, 1), map[bool]int{true: 1, false: 3}[c.short == "true"])
		assert.Len(t, Some([]int{7, 8, 9}, 5), 3)
	}
}
