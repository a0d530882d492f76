package records

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// rolesOf are the columns of a log in their order, "-" where one is not used.
func rolesOf(l *Log) string {
	all := make([]string, 20)
	for _, c := range l.Understood.Columns {
		all[c.At-1] = c.Role.String()
	}
	for _, c := range l.Understood.Unused {
		all[c.At-1] = "-"
	}
	return strings.TrimSpace(strings.Join(all, " "))
}

func TestColumnsAreFound(t *testing.T) {
	row := "2026-03-02 10:00;2026-03-02 10:12;12;Web break;seal worn;L1\n2026-03-02 11:00;2026-03-02 11:12;12;Web break;was hot;L1\n"
	for _, c := range []struct {
		name, text, want string
		why              Why // of the first
	}{
		{"english", "Start;End;Minutes;Cause;Note;Line\n" + row, "start end minutes cause note line", ByHead},
		{"title", "Stop log;of line 3\n\nStart;End;Minutes;Cause;Note;Line\n" + row, "start end minutes cause note line", ByHead},
		{"no head", "2026-03-02 10:00;12;a\n2026-03-02 11:00;13;a\n", "start minutes cause", ByContent},
		{"no head, two times", "2026-03-02;10:00;10:12;a\n2026-03-02;11:00;11:12;a\n", "date start end cause", ByContent},
		{"start and stop", "Start;Stop;Cause\n2026-03-02 10:00;2026-03-02 10:12;a\n", "start end cause", ByHead},
		{"stop and restart", "Stop;Restart;Cause\n2026-03-02 10:00;2026-03-02 10:12;a\n", "start end cause", ByHead},
		{"reason text and code", "Start;Min;Reason code;Reason\n2026-03-02 10:00;12;17;Web break\n2026-03-02 11:00;12;17;Web break\n", "start minutes - cause", ByHead},
		{"date and time in one, named date", "Date;Min;Cause\n2026-03-02 10:00;12;a\n", "start minutes cause", ByHead},
		{"a date beside whole starts", "Date;Start;Min;Cause\n2026-03-02;2026-03-02 10:00;12;a\n", "- start minutes cause", ByHead},
		{"two days", "Datum;Beginn;Datum;Ende;Grund\n2026-03-02;10:00;2026-03-02;10:12;a\n", "date start end-date end cause", ByHead},
		{"no cause", "Start;Min\n2026-03-02 10:00;12\n", "start minutes", ByHead},
		{"others", "Start;Min;Cause;Operator;Order\n2026-03-02 10:00;12;a;NN;4711\n", "start minutes cause - -", ByHead},
	} {
		l := read(t, c.text, Options{})
		assert.Equal(t, c.want, rolesOf(l), c.name)
		assert.Equal(t, c.why, l.Understood.Columns[0].Why, c.name)
	}
	columns, err := ParseColumns(" start = Q, end=2,cause=R ,line=L")
	require.NoError(t, err)
	l := read(t, "Q;W;E;R;T;L\n"+row, Options{Columns: columns})
	assert.Equal(t, "start end - cause - line", rolesOf(l))
	assert.Equal(t, Given, l.Understood.Columns[0].Why)
	assert.Equal(t, 1, l.Understood.HeadRow)
}

// What cannot be told is asked for, all at once, each with how to say it.
func TestWhatCannotBeToldIsAsked(t *testing.T) {
	for _, c := range []struct{ name, text, want string }{
		{"nothing", "", "log.csv: is empty"},
		{"a head alone", "start;minutes;cause\n", "log.csv: has no row below its head"},
		{"no start", "minutes;cause\n12;a\n", "log.csv:1: start: no column says when a stop began; there are \"minutes\", \"cause\"\n  1 | minutes | cause\n  write: --columns \"start=Started\""},
		{"no end", "start;cause\n2026-03-02 10:00;a\n", "log.csv:1: minutes: no column says when a stop ended or how long it lasted; there are \"start\", \"cause\"\n  1 | start | cause\n  write: --columns \"minutes=Minutes\""},
		{"no day", "start;end;cause\n10:00;10:05;a\n", "log.csv:1: date: the start is a time of day, and no column says the day"},
		{"two starts", "Start;Begin;Min;Cause\n2026-03-02 10:00;2026-03-02 10:00;12;a\n", "log.csv:1: start: column 1 \"Start\" and column 2 \"Begin\" both fit\n  1 | Start | Begin | Min | Cause\n  write: --columns \"start=1\""},
		{"two numbers", "2026-03-02 10:00;12;13;a\n", "log.csv: minutes: column 2 (\"12\") and column 3 (\"13\") both fit"},
		{"unknown heads", "Q;W;E;R;T\n2026-03-02 10:00;12;a;b;c\n2026-03-02 11:00;12;a;b;d\n", "log.csv:1: cause: column 3 \"E\" and column 4 \"R\" both fit"},
		{"a time or a duration", "2026-03-02;10:00;0:12;a\n2026-03-02;11:00;0:12;a\n", "log.csv: column 3 (\"0:12\") can be when a stop ended or how long it lasted\n  write: --columns \"end=3\" or --columns \"minutes=3\""},
		{"two texts", "2026-03-02 10:00;12;a;b\n2026-03-02 11:00;12;a;b\n", "log.csv: cause: column 3 (\"a\") and column 4 (\"b\") both fit"},
		{"unreadable", "start;minutes;cause\nx;y;z\n2026-03-02 10:00;12;a\nv;w;z\nu;w;z\n", "log.csv:1: minutes: column 2 \"minutes\" should be it, but most of its cells are not a duration: \"y\""},
		{"days alone", "start;minutes;cause\n2026-03-02 10:00;12;a\n2026-03-03;12;a\n2026-03-04;12;a\n", "log.csv: 2 of 3 rows cannot be read\n  write: --columns, with what each column is\nlog.csv:3: start: \"2026-03-03\" has no time of day"},
		{"no stop", "start;minutes;cause\n2026-03-02 10:00;-12;a\n", "log.csv:2: minutes: the stop ends 12m0s before it begins\n  2 | 2026-03-02 10:00 | -12 | a\n  write: an end after the start"},
		{"a quote without an end", "start;minutes;cause\n2026-03-02 10:00;12;\"a\n", "row 2: a quote is never closed"},
	} {
		_, err := tryRead(c.text, Options{})
		assert.ErrorContains(t, err, c.want, c.name)
	}
	_, err := tryRead("Q;W\n2026-03-02 10:00;12\n", Options{Columns: map[Role]string{Start: "X", Length: "Q", Cause: "q"}})
	assert.ErrorContains(t, err, "log.csv:1: start: there is no column \"X\"; there are \"Q\", \"W\"")
	assert.ErrorContains(t, err, "log.csv:1: cause: column 1 is given as minutes already")
	_, err = tryRead("Q;q\n2026-03-02 10:00;12\n", Options{Columns: map[Role]string{Start: "Q"}})
	assert.ErrorContains(t, err, "log.csv:1: start: two columns are called \"Q\", column 1 and column 2\n  1 | Q | q\n  write: --columns \"start=1\"")
	_, err = ParseColumns("start,ende=x,end=,start=1,start=2")
	assert.EqualError(t, err, "columns: \"start\" names no column; write start=HEAD\ncolumns: there is no \"ende\"; there are date, start, end-date, end, minutes, cause, line, note\ncolumns: \"end=\" names no column; write start=HEAD\ncolumns: start is given twice")
	for text, want := range map[string]DateOrder{"": Undecided, "day-first": DayFirst, "month-first": MonthFirst} {
		got, err := ParseDates(text)
		assert.NoError(t, err)
		assert.Equal(t, want, got)
	}
	_, err = ParseDates("us")
	assert.EqualError(t, err, `dates: "us" is neither day-first nor month-first`)
	for text, want := range map[string]byte{"": 0, "comma": ',', "point": '.'} {
		got, err := ParseDecimal(text)
		assert.NoError(t, err)
		assert.Equal(t, want, got)
	}
	_, err = ParseDecimal(",")
	assert.EqualError(t, err, `decimal: "," is neither comma nor point`)
}

// Every finding has a name and a sentence of its own as an error.
func TestEveryFindingIsSaid(t *testing.T) {
	names, said := map[string]bool{}, map[string]bool{}
	for k := range kindCount {
		f := Finding{Kind: k, Text: "x", Other: 3, Seconds: 60}
		what, _ := f.say(DayFirst)
		names[k.String()], said[what] = true, true
		assert.NotEmpty(t, k.String())
	}
	assert.Len(t, names, int(kindCount))
	assert.Len(t, said, int(kindCount)-1, "a stop without an end is one, wherever it stands")
}

// An error lists 200 at most, and no text can move a terminal.
func TestErrorsAreBounded(t *testing.T) {
	text := "start;minutes;cause\n" + strings.Repeat("2026-03-04\x1b[2J;\x1b[2J;a\n", 1) + strings.Repeat("2026-03-04;12;\x1b[2J\n", 1000)
	_, err := tryRead(text, Options{})
	require.Error(t, err)
	assert.Less(t, len(err.Error()), 60_000)
	assert.Contains(t, err.Error(), "and 802 more")
	assert.NotContains(t, err.Error(), "\x1b")
}
