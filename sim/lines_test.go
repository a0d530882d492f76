package sim_test

import (
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"regexp"
	"runtime"
	"slices"
	"strconv"
	"strings"
	"sync"
	"sync/atomic"
	"testing"
	"time"

	"rollchange/model"
	"rollchange/scenarios"
	"rollchange/scenarios/random"
	"rollchange/sim/effort"
)

// The laws that every valid scenario obeys, tried on lines that
// scenarios/random draws. A line is a function of its seed alone.
//
//	go test ./sim -run RandomLines                      250 lines, seeds 1 to 250; -short 30; ROLLCHANGE_LONG=1 10,000
//	ROLLCHANGE_NIGHTLY=1 go test ./sim -run Nightly     10,000 more, by the day's date
//	ROLLCHANGE_LINES=100000 ROLLCHANGE_SEED=7 go test ./sim -run RandomLines -timeout 0
//
// What fails is made short and printed as a scenario; with ROLLCHANGE_FAULTS=FOLDER
// it is written there too.

// law is one law. tried says on which lines: each so-manieth.
type law struct {
	name  string
	tried uint64
	holds func(*random.Scenario) error
}

// broken is a law that does not hold: how, so that the same fault on two lines
// is seen to be the same, and with which numbers.
type broken struct{ how, detail string }

func (b *broken) Error() string { return b.how + ": " + b.detail }

func breaks(how, format string, args ...any) error {
	return &broken{how, fmt.Sprintf(format, args...)}
}

var digits, where = regexp.MustCompile(`[-+]?[0-9][0-9.]*(e[-+]?[0-9]+)?`), regexp.MustCompile(`^alternative ".*", replication \d+: `)

// kindOf is what is wrong, less the numbers.
func kindOf(err error) string {
	var b *broken
	if errors.As(err, &b) {
		return b.how
	}
	return digits.ReplaceAllString(where.ReplaceAllString(err.Error(), ""), "#")
}

func environment(name string, otherwise uint64) uint64 {
	if n, err := strconv.ParseUint(os.Getenv(name), 10, 64); err == nil {
		return n
	}
	return otherwise
}

func TestRandomLines(t *testing.T) {
	n := effort.Of(30, 150, 10000)
	tryLines(t, environment("ROLLCHANGE_SEED", 0)*1e9+1, environment("ROLLCHANGE_LINES", uint64(n)))
}

// Lines on which a law once failed, of runs over many more than are tried each time.
func TestLinesThatFailed(t *testing.T) {
	failed := []uint64{7000021768, 7000010614, 7000056942, 7000020745, 7000098835, 7000042900, 7000051954, 7000052896, 13000049270,
		11000032125, 11000035657, 11000099563, 11000045754, 37000008420,
		// with orders:
		1, 369, 756, 7000000224, 7000000689, 7000000951, 7000001400, 7000001485, 7000001581, 7000001941, 7000002337, 11000000978, 19000000849, 29000001732, 29000005113, 31000004618, 41000014831, 43000017699, 53000016541}
	for i := 0; i < len(failed); i += effort.Of(13, 3, 1) { // the usual form has every third
		seed := failed[i]
		s, _, err := random.Draw(seed)
		if err != nil {
			t.Fatal(err)
		}
		t.Run(fmt.Sprint(seed), func(t *testing.T) { tryAll(t, s) })
	}
}

// TestNightly tries lines that no run has tried before. It is left out unless
// asked for, since what it does changes from day to day.
func TestNightly(t *testing.T) {
	if os.Getenv("ROLLCHANGE_NIGHTLY") == "" {
		t.Skip("ROLLCHANGE_NIGHTLY=1 tries the lines of the day")
	}
	day, _ := strconv.ParseUint(time.Now().UTC().Format("20060102"), 10, 64)
	t.Logf("seeds from %d", day*1e9+1)
	tryLines(t, day*1e9+1, environment("ROLLCHANGE_LINES", 10000))
}

// TestOneScenario tries every law on the scenario of a file: one that a run of
// random lines wrote, or one of a person.
func TestOneScenario(t *testing.T) {
	file := os.Getenv("ROLLCHANGE_ONLY")
	if file == "" {
		t.Skip("ROLLCHANGE_ONLY=FILE tries one scenario")
	}
	text, err := os.ReadFile(file)
	if err != nil {
		t.Fatal(err)
	}
	s, err := random.Read(string(text))
	if err != nil {
		t.Fatal(err)
	}
	tryAll(t, s)
}

// The shipped scenarios obey every law too.
func TestShippedScenariosObeyTheLaws(t *testing.T) {
	for _, template := range effort.Some(scenarios.Templates(), 2) {
		s, err := random.Read(string(template.Text))
		if err != nil {
			t.Fatalf("%s: %v", template.Name, err)
		}
		tryAll(t, s.With(map[string]random.Value{"run.horizon": quantity(8, "h", model.Time), "run.replications": {Word: "2"}, "run.warm_up": quantity(0, "s", model.Time)}))
	}
}

// A few lines by themselves, for the race detector of .ci/run.
func TestWorkersChangeNothing(t *testing.T) {
	for seed := range uint64(effort.Of(6, 12, 12)) {
		if s, _, err := random.Draw(seed); err == nil && endsWell(s) == nil {
			if err := sameForWorkers(s); err != nil {
				t.Errorf("seed %d: %v", seed, err)
			}
		}
	}
}

// FuzzEngine tries the laws on lines of any seed.
func FuzzEngine(f *testing.F) {
	for seed := range uint64(effort.Of(2, 8, 8)) {
		f.Add(seed)
	}
	f.Fuzz(func(t *testing.T, seed uint64) {
		if s, _, err := random.Draw(seed); err == nil {
			tryAll(t, s)
		}
	})
}

// tryAll tries every law on one scenario.
func tryAll(t *testing.T, s *random.Scenario) {
	t.Helper()
	if studyOf(s) == nil {
		_, err := s.Parse()
		t.Fatalf("nothing to try: %v", err)
	}
	for _, law := range laws {
		if err := law.holds(s); err != nil {
			t.Errorf("%s: %v", law.name, err)
		}
	}
}

// fault is one kind of failure and the lines that show it.
type fault struct {
	law   law
	kind  string
	seeds []uint64
	err   error
}

func tryLines(t *testing.T, first, n uint64) {
	start := time.Now()
	var (
		next, valid atomic.Uint64
		wait        sync.WaitGroup
		lock        sync.Mutex
		faults      = map[string]*fault{}
	)
	for range runtime.GOMAXPROCS(0) {
		wait.Go(func() {
			for i := next.Add(1) - 1; i < n; i = next.Add(1) - 1 {
				s, _, err := random.Draw(first + i)
				if err != nil {
					continue
				}
				valid.Add(1)
				for k, law := range laws {
					if (i+uint64(k))%law.tried != 0 {
						continue
					}
					if err := law.holds(s); err != nil {
						lock.Lock()
						key := law.name + ": " + kindOf(err)
						if faults[key] == nil {
							faults[key] = &fault{law: law, kind: kindOf(err), err: err}
						}
						faults[key].seeds = append(faults[key].seeds, first+i)
						lock.Unlock()
						if law.name == "ends" {
							break // the others need a line that ends
						}
					}
				}
			}
		})
	}
	wait.Wait()
	if valid.Load() < n*6/10 {
		t.Errorf("%d of %d drawn lines are valid", valid.Load(), n)
	}
	t.Logf("%d of %d lines valid, in %.0f s", valid.Load(), n, time.Since(start).Seconds())
	if list := rare(); len(list) > 0 {
		t.Errorf("of lists of orders there is never, or not often enough: %v", list)
	}
	if n >= 10000 {
		if never := tried.never(); len(never) > 0 {
			t.Errorf("figures that were 0 on every line, so that no law was tried on them: %v", never)
		}
	}
	var all []*fault
	for _, f := range faults {
		all = append(all, f)
	}
	slices.SortFunc(all, func(a, b *fault) int { return len(b.seeds) - len(a.seeds) })
	for i, f := range all {
		report(t, f, i)
	}
}

// report prints the shortest scenario of a fault.
func report(t *testing.T, f *fault, number int) {
	slices.Sort(f.seeds)
	var best *random.Scenario
	for _, seed := range f.seeds[:min(2, len(f.seeds))] {
		s, _, err := random.Draw(seed)
		if err != nil {
			t.Fatal(err)
		}
		s = random.Shrink(s, func(s *random.Scenario) bool {
			err := f.law.holds(s)
			return err != nil && kindOf(err) == f.kind
		}, 400, 10*time.Second)
		if best == nil || len(s.Text()) < len(best.Text()) {
			best, f.err = s, f.law.holds(s)
		}
	}
	head := fmt.Sprintf("law: %s\nlines: %d, seeds %v\n%v\n", f.law.name, len(f.seeds), f.seeds[:min(8, len(f.seeds))], f.err)
	t.Errorf("%s\n%s", head, best.Text())
	if folder := os.Getenv("ROLLCHANGE_FAULTS"); folder != "" {
		text := "# " + strings.ReplaceAll(strings.TrimSpace(head), "\n", "\n# ") + "\n" + best.Text()
		name := fmt.Sprintf("%02d-%s.toml", number+1, strings.Trim(regexp.MustCompile(`[^a-z]+`).ReplaceAllString(f.law.name+"-"+f.kind, "-"), "-"))
		if len(name) > 90 {
			name = name[:85] + ".toml"
		}
		if err := os.WriteFile(filepath.Join(folder, name), []byte(text), 0o644); err != nil {
			t.Error(err)
		}
	}
}
