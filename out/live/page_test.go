package live

import (
	"bytes"
	"compress/gzip"
	"os"
	"testing"

	"github.com/stretchr/testify/require"
)

// mocked writes a page around the stand-in for the engine.
func mocked(t testing.TB, p Page) []byte {
	t.Helper()
	glue, err := os.ReadFile("testdata/mock.js")
	require.NoError(t, err)
	var module, page bytes.Buffer
	z := gzip.NewWriter(&module)
	_, err = z.Write([]byte("\x00asm\x01\x00\x00\x00")) // the least module there is
	require.NoError(t, err)
	require.NoError(t, z.Close())
	require.NoError(t, p.write(&page, parts{module.Bytes(), string(glue)}))
	return page.Bytes()
}

const invented = `title = "Label press, an invented line"
[line]
speed = "150 m/min"
[[alternative]]
name = "by hand"
[[alternative]]
name = "automatic unwind"
[[alternative]]
name = "automatic unwind and rewind"
`

func TestLook(t *testing.T) {
	if out := os.Getenv("ROLLCHANGE_LOOK"); out != "" {
		require.NoError(t, os.WriteFile(out+"/mock.html", mocked(t, Page{Name: "press.toml", Text: invented, Version: "test"}), 0o600))
		require.NoError(t, os.WriteFile(out+"/tool.html", mocked(t, Page{Version: "test"}), 0o600))
	}
}
