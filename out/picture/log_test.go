package picture

import (
	"fmt"
	"math"
	"math/rand/v2"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"rollchange/out/invented"
	"rollchange/out/words"
	"rollchange/scenarios/cells"
	"rollchange/scenarios/learn"
	"rollchange/scenarios/records"
	"rollchange/sim/effort"
)

// stopLog is what a log says of so many causes, each of some stops of its own length.
func stopLog(t *testing.T, causes, each int, name func(i int) string) *learn.Line {
	t.Helper()
	var b strings.Builder
	b.WriteString("start,minutes,cause\n")
	r := rand.New(rand.NewPCG(1, uint64(causes)))
	at := time.Date(2026, 3, 2, 6, 0, 0, 0, time.UTC)
	for range each {
		for i := range causes {
			at = at.Add(time.Duration(1+r.IntN(90)) * time.Minute)
			long := 1 + int(float64(5+2*i)*r.ExpFloat64())
			fmt.Fprintf(&b, "%s,%d,\"%s\"\n", at.Format("2006-01-02 15:04"), long, strings.ReplaceAll(name(i), `"`, `""`))
			at = at.Add(time.Duration(long) * time.Minute)
		}
	}
	table, err := cells.Read("stops.csv", []byte(b.String()))
	require.NoError(t, err)
	log, err := records.Read(table, records.Options{})
	require.NoError(t, err)
	l, err := learn.Of(log, learn.Options{Seed: 1, Confidence: 0.95, Draws: 19})
	require.NoError(t, err)
	return l
}

// logPictures are all pictures of a log, by name.
func logPictures(l *learn.Line) map[string]*Picture {
	all := map[string]*Picture{"lost": LogLost(l), "times": LogTimes(l)}
	for i := range l.Causes[:min(3, len(l.Causes))] {
		all[fmt.Sprint("cause-", i)] = LogFit(l, &l.Causes[i])
	}
	return all
}

// Nothing collides, whatever causes are called and however many there are; what is not
// drawn one by one is said.
func TestPicturesOfALog(t *testing.T) {
	long := func(i int) string {
		return fmt.Sprintf("cause %d: the operator found the web creased at the second idler after the dryer and cut it out by hand", i)
	}
	for name, l := range map[string]*learn.Line{
		"plain": stopLog(t, 6, 12, func(i int) string { return fmt.Sprint("cause ", i) }),
		"forty": stopLog(t, 40, 3, long),
		"one":   stopLog(t, 1, 1, long),
		"words": stopLog(t, 8, 9, func(i int) string {
			return []string{"Bahnriß beim Rollenwechsel", "обрыв полотна", "θραύση ταινίας", "断纸", "انقطاع الورق", strings.Repeat("x", 120), "a\tb", "ᚠᛇᚻ " + strings.Repeat("long ", 30)}[i]
		}),
	} {
		for kind, p := range logPictures(l) {
			if p == nil {
				assert.Contains(t, []string{"one", "forty"}, name, kind)
				continue
			}
			text := sound(t, "log-"+name+"-"+kind, p)
			assert.NotContains(t, text, "NaN")
			switch {
			case kind == "lost" && name == "forty":
				has(t, text, words.OtherCauses(29), "87 stops")
			case kind == "times" && name == "forty":
				has(t, text, "28 more causes not shown")
			case kind == "lost":
				assert.NotContains(t, text, "the other")
			case kind == "times":
				assert.NotContains(t, text, "not shown")
			case name == "plain":
				has(t, text, "How long it lasts: ", "Time between, in running hours: ", "of 12 values", words.LogTheBand)
			}
		}
	}
}

func TestPicturesOfAHostileLog(t *testing.T) {
	for _, hostile := range invented.HostileNames[:effort.Of(1, 5, len(invented.HostileNames))] {
		name := strings.Map(func(r rune) rune {
			if r == 0 || r == '\r' || r == '\n' {
				return ' '
			}
			return r
		}, hostile)
		for kind, p := range logPictures(stopLog(t, 2, 6, func(i int) string { return fmt.Sprint(name, i) })) {
			if p != nil {
				sound(t, "hostile-"+kind, p)
			}
		}
	}
}

// The bars are as long as their hours and the largest stands first.
func TestBarsOfLostHours(t *testing.T) {
	l := stopLog(t, 5, 10, func(i int) string { return fmt.Sprint("cause ", i) })
	texts, _ := recorded(t, LogLost(l))
	var at []float64
	for i := range l.Causes {
		for _, x := range texts {
			if x.text == words.LostText(l.Causes[i].Lost/3600, 100*l.Causes[i].Share, l.Causes[i].Stops) {
				at = append(at, float64(x.area.x0))
			}
		}
	}
	require.Len(t, at, 5)
	scale := (at[0] - at[4]) / (l.Causes[0].Lost - l.Causes[4].Lost)
	for i := range at {
		assert.InDelta(t, scale*(l.Causes[i].Lost-l.Causes[4].Lost), at[i]-at[4], 1e-6)
		assert.LessOrEqual(t, at[i], at[0])
	}
}

// Ticks are at whole days, few enough to read, of an hour as of ten years.
func TestDayTicks(t *testing.T) {
	from := time.Date(2026, 1, 30, 7, 9, 0, 0, time.UTC)
	for _, days := range []float64{0.02, 0.2, 1, 3, 9, 21, 60, 200, 1000, 3650} {
		ticks := dayTicks(from, from.Add(time.Duration(days*24*float64(time.Hour))))
		assert.LessOrEqual(t, len(ticks), 9, "%g days", days)
		assert.True(t, len(ticks) >= 2 || days < 0.3, "%g days", days)
		for _, k := range ticks {
			assert.Zero(t, math.Mod(k.Value+7*3600+9*60, 3600), "%g days", days)
		}
	}
}

// Ticks keep to the clock on the wall where it is put on or back, at midnight too, where
// the day begins at 01:00. The days are those of the zone files: 3 September 2023 in
// Santiago, 26 March 2023 in Beirut, 12 March 2023 in Havana and 1 October 2017 in
// Asunción have no midnight; 29 October 2023 in Berlin has 25 hours.
func TestDayTicksWhereTheClockIsChanged(t *testing.T) {
	for _, c := range []struct {
		zone       string
		y, m, d    int
		days       int
		labels     []string
		firstHours float64 // from the begin, at noon, to the first tick
	}{
		{"America/Santiago", 2023, 9, 2, 3, []string{"09-03 01:00", "09-03 12:00", "09-04 00:00", "09-04 12:00", "09-05 00:00", "09-05 12:00"}, 12},
		{"America/Santiago", 2023, 9, 2, 5, []string{"2023-09-03", "2023-09-04", "2023-09-05", "2023-09-06", "2023-09-07"}, 12},
		{"Asia/Beirut", 2023, 3, 25, 5, []string{"2023-03-26", "2023-03-27", "2023-03-28", "2023-03-29", "2023-03-30"}, 12},
		{"America/Havana", 2023, 3, 11, 5, []string{"2023-03-12", "2023-03-13", "2023-03-14", "2023-03-15", "2023-03-16"}, 12},
		{"Europe/Berlin", 2023, 10, 28, 5, []string{"2023-10-29", "2023-10-30", "2023-10-31", "2023-11-01", "2023-11-02"}, 12},
		{"America/Asuncion", 2017, 9, 15, 130, []string{"2017-10-01", "2017-11-01", "2017-12-01", "2018-01-01"}, 15*24 + 12},
	} {
		place, err := time.LoadLocation(c.zone)
		require.NoError(t, err)
		from := time.Date(c.y, time.Month(c.m), c.d, 12, 0, 0, 0, place)
		ticks := dayTicks(from, from.AddDate(0, 0, c.days))
		var labels []string
		for i, k := range ticks {
			if at := from.Add(time.Duration(k.Value) * time.Second); len(k.Label) == len("2023-09-03") && i > 0 {
				assert.Zero(t, at.Hour(), "%s %s", c.zone, k.Label)
			}
			if k.Value > 0 { // the begin is one where ticks are at noon too
				labels = append(labels, k.Label)
			}
		}
		assert.Equal(t, c.labels, labels, c.zone)
		if ticks[0].Value == 0 {
			ticks = ticks[1:]
		}
		assert.Equal(t, 3600*c.firstHours, ticks[0].Value, c.zone)
	}
}

// No law, no picture; nothing of no time.
func TestPicturesOfALittleLog(t *testing.T) {
	l := stopLog(t, 1, 3, func(int) string { return "x" })
	assert.Nil(t, LogFit(l, &l.Causes[0]))
	l.Log.To = l.Log.From
	assert.Nil(t, LogTimes(l))
	l.Causes[0].Lost = 0
	sound(t, "nothing-lost", LogLost(l))
}
