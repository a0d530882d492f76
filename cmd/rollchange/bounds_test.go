package main

import (
	"bytes"
	"fmt"
	"os"
	"os/exec"
	"runtime"
	"strconv"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// Whatever a file or a flag holds, the tool refuses it in 2 s of processor time
// and 200 MB, counted by the system for the whole process.
func TestAnyRefusalIsQuickAndSmall(t *testing.T) {
	if testing.Short() || runtime.GOOS != "linux" {
		t.Skip("builds the command; the system counts memory in other units elsewhere")
	}
	_, binary := built(t)
	t.Chdir(t.TempDir())
	put := func(name, text string) { require.NoError(t, os.WriteFile(name, []byte(text), 0o644)) }
	good := template(t, "label_press")
	put("good.toml", good)
	nest := func(n int) string { return "x = " + strings.Repeat("{a=", n) + "1" + strings.Repeat("}", n) }
	var tables, rows strings.Builder
	for i := range 60_000 {
		fmt.Fprintf(&tables, "[t%d]\n", i)
	}
	for i := range 1_000_000 {
		fmt.Fprintf(&rows, "%d\n", i)
	}
	put("nest12.toml", nest(3000))
	put("nest40.toml", nest(10_000))
	put("arrays.toml", "x = "+strings.Repeat("[", 500_000)+strings.Repeat("]", 500_000))
	put("tables.toml", tables.String())
	put("gamma.toml", strings.Replace(good, `reaction = { dist = "uniform", min = "5 s", max = "30 s" }`, `reaction = { dist = "gamma", shape = 1e18, scale = "1 s" }`, 1))
	put("huge.csv", "walk [s]\n"+rows.String())
	put("wide.csv", strings.Repeat("1;", 5_000_000))
	put("quotes.csv", "walk [s]\n"+strings.Repeat("\"1\n", 2_000_000))
	for _, name := range []string{"huge", "wide", "quotes"} {
		put(name+".toml", strings.Replace(good, `reaction = { dist = "uniform", min = "5 s", max = "30 s" }`, fmt.Sprintf(`reaction = { dist = "empirical", file = "%s.csv" }`, name), 1))
	}
	require.NoError(t, exec.Command("truncate", "-s", "3G", "part.jsonl").Run())
	for _, args := range [][]string{
		{"check", "nest12.toml"}, {"check", "nest40.toml"}, {"check", "arrays.toml"}, {"check", "tables.toml"}, {"check", "gamma.toml"}, {"check", "huge.toml"}, {"check", "wide.toml"}, {"check", "quotes.toml"},
		{"run", "good.toml", "--set", "line.speed=" + strings.Repeat("[", 30_000)}, {"run", "good.toml", "--set", strings.Repeat("[", 100_000) + "=1"}, {"run", "good.toml", "--set", "unwind.dwell=" + nest(3000)[4:]},
		{"check", "/dev/zero"}, {"run", "good.toml", "--horizon", nest(3000)[4:]}, {"run", "good.toml", "--horizon", "1e300 d"}, {"run", "good.toml", "--replications", "100000", "--horizon", "1000 d"},
		{"sweep", "good.toml", "--vary", "line.speed=1 m/min..100 m/min/1000", "--vary", "unwind.residual=1 m..9 m/1000"}, {"sweep", "good.toml", "--vary", "line.speed=" + strings.Repeat("[", 30_000) + ",2"},
		{"trace", "good.toml", "--from", "1e400 s"}, {"run", "good.toml", "--precision", "1%", "--most-replications", "2000000000"}, {"run", "good.toml", "--workers", "99999999999999999999"},
		{"size", "storage", "good.toml", "--most", "1e308 km"}, {"size", "storage", "good.toml", "--alternative", "automatic unwind", "--strands", "1..999999999"}, {"payback", "good.toml", "--draws", "2000000000"}, {"merge", "part.jsonl"},
		{"plot", "hours", "good.toml", "-o", "a.png", "--width", "1e9 px"}, {"report", "good.toml", "-o", "a.html", "--logo", "huge.csv"}, {"sensitivity", "good.toml", "--points", "1000000000", "--total"},
	} {
		cmd := exec.Command(binary, args...)
		var stderr bytes.Buffer
		cmd.Stderr = &stderr
		done := make(chan error, 1)
		require.NoError(t, cmd.Start())
		peak := peakMemory(cmd.Process.Pid)
		go func() { done <- cmd.Wait() }()
		select {
		case <-done:
		case <-time.After(2 * time.Minute): // of a clock that others slow down; what it may take stands below
			_ = cmd.Process.Kill()
			<-done
		}
		what := fmt.Sprintf("%.80v", args)
		state := cmd.ProcessState
		assert.Equal(t, exitBad, state.ExitCode(), "%s: %.200s", what, stderr.String())
		assert.Less(t, state.UserTime()+state.SystemTime(), 2*time.Second, what)
		assert.Less(t, <-peak, int64(200<<10), "%s: kB", what)
		assert.Less(t, stderr.Len(), 50_000, what)
	}
}

// peakMemory is the most memory that a process has had, kB, as last seen before it
// ended. What the system counts at its end (ru_maxrss) holds the memory of the
// process that started it too, and these tests share a large one.
func peakMemory(pid int) <-chan int64 {
	peak := make(chan int64, 1)
	go func() {
		most := int64(0)
		for {
			text, err := os.ReadFile(fmt.Sprintf("/proc/%d/status", pid))
			_, rest, ok := strings.Cut(string(text), "VmHWM:")
			if err != nil || !ok { // gone, or waited for
				peak <- most
				return
			}
			if f := strings.Fields(rest); len(f) > 0 {
				if kB, err := strconv.ParseInt(f[0], 10, 64); err == nil {
					most = max(most, kB)
				}
			}
			time.Sleep(time.Millisecond)
		}
	}()
	return peak
}
