package records

import (
	"runtime"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"rollchange/scenarios/records/invented"
	"rollchange/sim/effort"
)

// Whatever the text: an error or a log, never a panic; a log has each row once,
// causes add up to lines, and intervals hold what they are about.
func FuzzLog(f *testing.F) {
	stops := invented.Of(1, 12, begun, "")
	for _, d := range invented.Dialects() {
		f.Add(string(d.Write(stops)))
	}
	for _, text := range []string{"", "a", "\"", "start;minutes;cause\n;;\n", "sep=;\nstart;end\n1;2\n", "start,end\n45000.5,45000.4\n", "date,start,minutes\n2026-01-01,,\n,,\n,1:00,5\n",
		"start;minutes\n2199-12-31 23:59;52000000\n", "start;end;cause\n1900-01-01 0:00;2199-12-31 24:00;a\n", strings.Repeat(";", 3000), "start;minutes\n1:\u0307;\u0307\n"} {
		f.Add(text)
	}
	f.Fuzz(func(t *testing.T, text string) {
		if len(text) > 1<<16 {
			return
		}
		for _, opt := range []Options{{}, {Dates: DayFirst, Decimal: ',', Columns: map[Role]string{Start: "1", Length: "2", Cause: "3"}}} {
			l, err := tryRead(text, opt)
			if err != nil {
				assert.Less(t, len(err.Error()), 1<<18)
				continue
			}
			holds(t, l, opt)
		}
	})
}

// holds are the laws of every log.
func holds(t *testing.T, l *Log, opt Options) {
	assertEveryRowOnce(t, l, opt)
	lines, causes := 0.0, 0.0
	for _, x := range l.Lines {
		lines += x.Stopped
		require.LessOrEqual(t, x.Stopped, x.Planned+1e-6)
	}
	for _, c := range l.Causes {
		causes += c.Charged
		for _, g := range l.Gaps(c.Text) {
			require.GreaterOrEqual(t, g.Seconds, 0.0)
			require.LessOrEqual(t, g.Low, g.Seconds)
			require.GreaterOrEqual(t, g.High, g.Seconds)
		}
	}
	require.InDelta(t, lines, causes, 1e-6*(1+lines))
	for _, s := range l.Stops {
		require.GreaterOrEqual(t, s.Charged, 0.0)
		require.GreaterOrEqual(t, s.Low, 0.0)
		require.LessOrEqual(t, s.Low, s.High)
		if s.Readings > 0 {
			require.LessOrEqual(t, s.Low, s.Seconds)
			require.GreaterOrEqual(t, s.High, s.Seconds)
		}
	}
}

// A hostile text takes no more room than a large log does.
func TestHostileTextsAreBounded(t *testing.T) {
	effort.NotInRace(t)
	part := effort.Of(4, 1, 1) // of the size and of the room
	for name, text := range map[string]string{
		"commas":     strings.Repeat(strings.Repeat(",", 900)+"x\n", 4000/part),
		"rows":       strings.Repeat("a\n", 2_000_000/part),
		"one quote":  "\"" + strings.Repeat("x;\n", 1_000_000/part),
		"same start": "start;minutes;cause\n" + strings.Repeat("2026-03-02 10:00;5;a\n", 100_000/part),
		"all nested": "start;minutes;cause;note\n" + strings.Repeat("2026-03-02 10:00;5;a;b\n2026-03-02 10:00;6;a;c\n", 50_000/part),
		"wide heads": strings.Repeat("start;", 990) + "\n" + strings.Repeat("2026-03-02 10:00;", 990) + "\n",
	} {
		var before, after runtime.MemStats
		runtime.ReadMemStats(&before)
		l, err := tryRead(text, Options{})
		runtime.ReadMemStats(&after)
		assert.Less(t, after.TotalAlloc-before.TotalAlloc, uint64(500<<20/part), name)
		if err == nil {
			assertEveryRowOnce(t, l, Options{})
		}
	}
}

// 100,000 rows are read in 2 s and 200 MB: of processor time and of memory held,
// in one go.
func BenchmarkRead(b *testing.B) {
	stops := invented.Of(5, 100_000, begun, "")
	for _, d := range invented.Dialects()[:3] {
		text := string(d.Write(stops))
		b.Run(d.Name, func(b *testing.B) {
			b.ReportAllocs()
			for range b.N {
				l, err := tryRead(text, Options{})
				require.NoError(b, err)
				require.Len(b, l.Stops, len(stops))
				for _, c := range l.Causes {
					l.Gaps(c.Text)
				}
			}
		})
	}
}

// A large log takes 200 MB in all, most of which is not held.
func TestALargeLogIsSmallInMemory(t *testing.T) {
	effort.NotInRace(t)
	part := effort.Of(4, 1, 1) // of the size and of the room
	rows := 100_000 / part
	text := string(invented.Dialects()[2].Write(invented.Of(5, rows, begun, "")))
	var before, after runtime.MemStats
	runtime.GC()
	runtime.ReadMemStats(&before)
	l, err := tryRead(text, Options{})
	require.NoError(t, err)
	runtime.ReadMemStats(&after)
	require.Len(t, l.Stops, rows)
	assert.Less(t, after.TotalAlloc-before.TotalAlloc, uint64(200<<20/part))
}
