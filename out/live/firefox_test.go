package live

import (
	"bufio"
	"encoding/base64"
	"encoding/json"
	"fmt"
	"io"
	"net"
	"net/url"
	"os"
	"os/exec"
	"path/filepath"
	"strconv"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// firefox is a headless Firefox, driven by its own protocol (Marionette): a length, a
// colon and a list of four, both ways.
type firefox struct {
	t    *testing.T
	conn net.Conn
	read *bufio.Reader
	asks int
}

// startFirefox starts one with a profile of its own, or skips the test where there is none.
func startFirefox(t *testing.T) *firefox {
	t.Helper()
	if testing.Short() {
		t.Skip("a browser takes a while")
	}
	path := ""
	for _, name := range []string{"firefox", "firefox-esr"} {
		if p, err := exec.LookPath(name); err == nil {
			path = p
			break
		}
	}
	if path == "" {
		t.Skip("no Firefox is installed: the page is not looked at in it")
	}
	profile := t.TempDir()
	require.NoError(t, os.WriteFile(filepath.Join(profile, "user.js"), []byte(`user_pref("marionette.port", 0);
user_pref("browser.shell.checkDefaultBrowser", false);
user_pref("datareporting.policy.dataSubmissionEnabled", false);
user_pref("app.normandy.enabled", false);
user_pref("network.captive-portal-service.enabled", false);
user_pref("network.connectivity-service.enabled", false);
`), 0o600))
	cmd := exec.Command(path, "--headless", "--marionette", "--no-remote", "--profile", profile)
	cmd.Env = append(os.Environ(), "HOME="+t.TempDir())
	require.NoError(t, cmd.Start())
	t.Cleanup(func() {
		_ = cmd.Process.Kill()
		_ = cmd.Wait()
	})
	f := &firefox{t: t}
	for end := time.Now().Add(60 * time.Second); f.conn == nil; time.Sleep(100 * time.Millisecond) {
		require.True(t, time.Now().Before(end), "Firefox says where it listens")
		port, err := os.ReadFile(filepath.Join(profile, "MarionetteActivePort"))
		if err != nil {
			continue
		}
		if conn, err := net.Dial("tcp", "127.0.0.1:"+strings.TrimSpace(string(port))); err == nil {
			f.conn, f.read = conn, bufio.NewReader(conn)
		}
	}
	t.Cleanup(func() { _ = f.conn.Close() })
	f.receive() // what it is
	f.ask("WebDriver:NewSession", map[string]any{})
	f.ask("WebDriver:SetTimeouts", map[string]any{"script": 90000, "pageLoad": 90000})
	return f
}

// receive reads one message.
func (f *firefox) receive() []byte {
	f.t.Helper()
	require.NoError(f.t, f.conn.SetReadDeadline(time.Now().Add(2*time.Minute)))
	length, err := f.read.ReadString(':')
	require.NoError(f.t, err)
	n, err := strconv.Atoi(strings.TrimSuffix(length, ":"))
	require.NoError(f.t, err)
	text := make([]byte, n)
	_, err = io.ReadFull(f.read, text)
	require.NoError(f.t, err)
	return text
}

// ask gives a command and returns the value of its reply.
func (f *firefox) ask(command string, parameters map[string]any) any {
	f.t.Helper()
	f.asks++
	text, err := json.Marshal([]any{0, f.asks, command, parameters})
	require.NoError(f.t, err)
	_, err = fmt.Fprintf(f.conn, "%d:%s", len(text), text)
	require.NoError(f.t, err)
	var reply []any
	require.NoError(f.t, json.Unmarshal(f.receive(), &reply))
	require.Len(f.t, reply, 4)
	require.Nil(f.t, reply[2], command)
	fields, _ := reply[3].(map[string]any)
	return fields["value"]
}

// run runs a script that returns a value.
func (f *firefox) run(script string) any {
	f.t.Helper()
	return f.ask("WebDriver:ExecuteScript", map[string]any{"script": script, "args": []any{}, "sandbox": "tests", "newSandbox": false})
}

func (f *firefox) sure() {
	f.t.Helper()
	for end := time.Now().Add(60 * time.Second); time.Now().Before(end); time.Sleep(50 * time.Millisecond) {
		if f.run(`return T.state() === 'sure' && !document.getElementById('answer').hasAttribute('aria-busy')`) == true {
			return
		}
	}
	f.t.Fatalf("never sure: %v", f.run(`return document.body.innerText.slice(0, 2000)`))
}

// Firefox answers from a file like Chromium: the figures are the same to the last digit,
// as opened, with the line speed moved and with a price; nothing is asked for, the policy
// of the page stops nothing that it needs, and what is saved is the same text.
func TestTheSameInFirefox(t *testing.T) {
	longAlone(t)
	f := startFirefox(t)
	page := written(t, Page{Name: "press.toml", Text: shipped(t, "press_comparison")})
	path := filepath.Join(t.TempDir(), "live.html")
	require.NoError(t, os.WriteFile(path, page, 0o600))
	f.ask("WebDriver:SetWindowRect", map[string]any{"width": 1280, "height": 900})
	f.ask("WebDriver:Navigate", map[string]any{"url": (&url.URL{Scheme: "file", Path: path}).String()})
	f.run(`globalThis.wrong = []; addEventListener('error', (e) => wrong.push(e.message)); addEventListener('unhandledrejection', (e) => wrong.push(String(e.reason))); document.addEventListener('securitypolicyviolation', (e) => wrong.push(e.violatedDirective)); ` + helpers)
	f.sure()
	p := opens(t, chromium(t), page)
	p.sure()
	for _, script := range []string{"0", `T.slide('line speed', 120)`, `T.slide('cost of web', 0.4)`, `document.querySelectorAll('.check input')[1].click()`} {
		f.run(script)
		do[any](p, script+`; 1`)
		f.sure()
		p.sure()
		for _, part := range []string{"said", "set", "part-figures", "part-more", "part-money", "part-hours", "part-web", "part-table", "part-cautions"} {
			read := `document.getElementById('` + part + `').textContent`
			assert.Equal(t, do[string](p, read), f.run("return "+read), "%s after %s", part, script)
		}
	}
	assert.Empty(t, f.run(`return wrong`))
	assert.Empty(t, f.run(`return performance.getEntriesByType('resource').map((e) => e.name).filter((name) => !/^(blob|data):/.test(name))`))
	assert.Equal(t, false, f.run(`return document.documentElement.scrollWidth > document.documentElement.clientWidth`))
	data, err := base64.StdEncoding.DecodeString(f.ask("WebDriver:TakeScreenshot", map[string]any{"full": true}).(string))
	require.NoError(t, err)
	keep(t, "firefox.png", data)
	t.Logf("%v: first sure answer %v", f.run(`return navigator.userAgent`), f.run(`return document.getElementById('counted').textContent`))
	p.quiet()
}
