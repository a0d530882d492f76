package out

import (
	"fmt"
	"io"
	"math"
	"strconv"
	"strings"

	"rollchange/model"
	"rollchange/sim"
	"rollchange/sim/whatif"
)

// mostSwings is how many inputs a table of a sensitivity shows for each metric.
const mostSwings = 12

// SensitivityTable writes, for each metric, the inputs that move it most.
func SensitivityTable(w io.Writer, about About, s *whatif.Sensitivities, run sim.RunInfo, sys model.System, color bool) error {
	var b strings.Builder
	title := about.titleOf(s.Alternative, false)
	fmt.Fprintf(&b, "%s\n%s\n", bold(shorten(title, 100), color), wrap(head(run), 100))
	for _, metric := range s.Metrics {
		list := s.Swings[metric]
		base := sim.Estimate{Unit: unitOf(metric), Mean: list[0].Base, HalfWidth: list[0].BaseHalf}
		u := shown(base.Unit, math.Abs(base.Mean), sys)
		total := !math.IsNaN(list[0].Total)
		fmt.Fprintf(&b, "\n%s\n", bold(fmt.Sprintf("%s, now %s %s", labelOf(metric).text, figure(base, u), u.Name), color))
		fmt.Fprintf(&b, "  %s%s%s%s", pad("input", 30), padLeft("low end", 17), padLeft("high end", 17), padLeft("moved to", 30))
		if total {
			fmt.Fprint(&b, padLeft("total", 7))
		}
		fmt.Fprintln(&b)
		shownAny := 0
		for _, x := range list {
			if shownAny == mostSwings || x.Size() == 0 {
				break
			}
			shownAny++
			ends := fmt.Sprintf("%s … %s", shorten(safe(x.LowText), 13), shorten(safe(x.High), 13))
			fmt.Fprintf(&b, "  %s%s%s%s", pad(shorten(x.Key, 29), 30), padLeft(swingText(x.Low, x.LowHalf, x.Base, u), 17), padLeft(swingText(x.Up, x.UpHalf, x.Base, u), 17), padLeft(ends, 30))
			if !math.IsNaN(x.Total) {
				fmt.Fprint(&b, padLeft(strconv.FormatFloat(x.Total, 'f', 2, 64), 7))
			}
			fmt.Fprintln(&b)
		}
		if n := len(list) - shownAny; n > 0 {
			fmt.Fprintf(&b, "  and %d inputs that move it less or not at all\n", n)
		}
	}
	fmt.Fprintf(&b, "\n%s\n", wrap("(each input moved alone: a distribution by the factors of its 10 % and 90 % points to its mean, a whole number by one, anything else by the share; differences from now on the same chance; ~ no difference shown)", 98))
	if n := len(s.Skipped); n > 0 {
		fmt.Fprintln(&b, wrap(fmt.Sprintf("Not moved: %s.", strings.Join(s.Skipped, "; ")), 98))
	}
	_, err := io.WriteString(w, b.String())
	return err
}

// swingText is the difference that an end makes.
func swingText(x, half, base float64, u model.Unit) string {
	switch {
	case math.IsNaN(x):
		return "no such line"
	case !(math.Abs(x-base) > half) && half > 0 || x == base:
		return "~"
	}
	d := u.From(x - base)
	sign := "+"
	if d < 0 {
		sign = "−"
	}
	return sign + strconv.FormatFloat(math.Abs(d), 'g', 3, 64) + " " + u.Name
}

// SensitivityJSON writes a sensitivity, SI units.
func SensitivityJSON(w io.Writer, about About, s *whatif.Sensitivities, run sim.RunInfo) error {
	type end struct {
		Text      string   `json:"text"`
		Mean      *float64 `json:"mean"`
		HalfWidth *float64 `json:"difference_half_width"`
	}
	type swing struct {
		Key   string   `json:"key"`
		Base  string   `json:"base"`
		Low   end      `json:"low"`
		High  end      `json:"high"`
		Total *float64 `json:"total_effect"`
	}
	type metric struct {
		Metric string   `json:"metric"`
		Unit   string   `json:"unit"`
		Base   *float64 `json:"base"`
		Half   *float64 `json:"half_width"`
		Inputs []swing  `json:"inputs"`
	}
	var metrics []metric
	for _, name := range s.Metrics {
		list := s.Swings[name]
		m := metric{Metric: name, Unit: unitOf(name), Base: orNull(list[0].Base), Half: orNull(list[0].BaseHalf)}
		for _, x := range list {
			m.Inputs = append(m.Inputs, swing{x.Key, x.BaseText, end{x.LowText, orNull(x.Low), orNull(x.LowHalf)}, end{x.High, orNull(x.Up), orNull(x.UpHalf)}, orNull(x.Total)})
		}
		metrics = append(metrics, m)
	}
	return encode(w, struct {
		Tool     jsonTool     `json:"tool"`
		Scenario jsonScenario `json:"scenario"`
		Run      jsonRun      `json:"run"`
		Metrics  []metric     `json:"metrics"`
		Skipped  []string     `json:"not_moved"`
	}{jsonTool{"rollchange", about.Version}, about.scenario(s.Alternative), runJSON(run), metrics, s.Skipped})
}
