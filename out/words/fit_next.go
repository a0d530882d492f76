package words

import (
	"fmt"
	"strings"

	"rollchange/model/legible"
	"rollchange/scenarios/fit"
	"rollchange/scenarios/learn"
	"rollchange/scenarios/records"
)

// FitAnswer says what a log comes to: the time lost and what took most of it.
func FitAnswer(l *learn.Line) []string {
	list := []string{fmt.Sprintf("The line stood still for %s of %s planned, %s %%.", Duration(l.Stopped), Duration(l.Planned), Short(100*l.Stopped/l.Planned, 3))}
	if len(l.Causes) > 1 && l.Stopped > 0 {
		c := &l.Causes[0]
		s := fmt.Sprintf("Most was lost to \"%s\": %s in %s, %s %% of what was lost", CauseName(c.Text), Duration(c.Lost), counted(c.Stops, "stop"), Short(100*c.Share, 3))
		n, sum := 0, 0.0
		for n < len(l.Causes) && sum < 0.8 {
			sum += l.Causes[n].Share
			n++
		}
		if n > 1 && n < len(l.Causes) {
			s += fmt.Sprintf("; the first %d of %d causes took %s %%", n, len(l.Causes), Short(100*sum, 3))
		}
		list = append(list, s+".")
	}
	return list
}

// FitProposals are flags that say what causes may be, and why, for a person to confirm.
func FitProposals(l *learn.Line) []Pair {
	var list []Pair
	for _, p := range l.Propose() {
		name := legible.Line(p.Cause)
		if p.Same != "" {
			list = append(list, Pair{"--same " + shellWord(name+"="+legible.Line(p.Same)), "the two are spelt nearly alike"})
			continue
		}
		why := map[learn.Target]string{learn.WebBreak: "its name is that of a web break", learn.ChangeTime: "its name is that of a roll change at the unwind", learn.RewindTime: "its name is that of a roll change at the rewind",
			learn.Changeover: "its name is that of a changeover", learn.NotAStop: "its name says that no production was planned"}[p.Is]
		list = append(list, Pair{"--map " + shellWord(name+"="+string(p.Is)), why})
	}
	return list
}

// shellWord is a word of a command line.
func shellWord(s string) string {
	if strings.ContainsAny(s, "'") && !strings.ContainsAny(s, "\"$`\\!") {
		return `"` + s + `"`
	}
	return "'" + strings.ReplaceAll(s, "'", `'\''`) + "'"
}

// FitNext says what to do next with what a log says.
func FitNext(l *learn.Line) []string {
	var list []string
	say := func(format string, args ...any) { list = append(list, fmt.Sprintf(format, args...)) }
	out := 0
	for _, f := range l.Log.Findings {
		if f.Kind.LeftOut() {
			out++
		}
	}
	if out > 0 {
		say("Look at the rows that were left out (%d): correct them in the log and read it again.", out)
	}
	u := &l.Log.Understood
	for _, x := range []struct {
		assumed     bool
		what, flags string
	}{{u.Dates != records.Undecided && u.DatesWhy == records.Assumed, "the order of day and month", "--dates"}, {u.Decimal != 0 && u.DecimalWhy == records.Assumed, "the decimal mark", "--decimal"}} {
		if x.assumed {
			say("Check %s, which was assumed; %s settles it.", x.what, x.flags)
		}
	}
	if s := FitUneven(l); s != "" {
		say("%s", s)
	}
	names := func(is func(c *learn.Cause) bool) string {
		var all []string
		for i := range l.Causes {
			if c := &l.Causes[i]; is(c) {
				all = append(all, `"`+CauseName(c.Text)+`"`)
			}
		}
		const most = 5
		if len(all) > most {
			return strings.Join(all[:most], ", ") + fmt.Sprintf(" and %d more", len(all)-most)
		}
		return strings.Join(all, ", ")
	}
	if s := names(func(c *learn.Cause) bool {
		return c.Lasts.Why == fit.NoLaw && c.Lasts.Taken >= 0 || c.Between.Why == fit.NoLaw && c.Between.Taken >= 0
	}); s != "" {
		say("No law fits %s: there may be two kinds of stop under one name; give each its own name in the log, or use the values as they are.", s)
	}
	if s := names(func(c *learn.Cause) bool {
		return c.Trend.LaplaceP < learn.Speaks || c.Trend.ChanceP < learn.Speaks
	}); s != "" {
		say("The rate of %s changed over the period: take the part of the log that is most like the future, with --from and --to.", s)
	}
	if s := names(func(c *learn.Cause) bool { return c.OneRate && c.Between.Why != fit.Unasked }); s != "" {
		say("Too few stops for a law of the time between: %s. A longer log would say more.", s)
	}
	return list
}

// FitUse is how the laws go on, as commands.
func FitUse(log string) []string {
	log = shellWord(legible.Line(log))
	return []string{"rollchange fit " + log + " --into line.toml -o fitted.toml", "rollchange compare fitted.toml"}
}
