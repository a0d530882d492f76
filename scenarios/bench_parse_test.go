package scenarios

import "testing"

// BenchmarkParse reads each shipped scenario, and reads it again with a change.
func BenchmarkParse(b *testing.B) {
	for _, x := range Templates() {
		s, err := Parse(x.Name, x.Text, ".")
		if err != nil {
			b.Fatal(err)
		}
		m, err := s.MoverOf("economics.price")
		if err != nil {
			b.Fatal(err)
		}
		o, err := m.Set(m.TextOf(m.To))
		if err != nil {
			b.Fatal(err)
		}
		for how, read := range map[string]func() (*Scenario, error){
			"first": func() (*Scenario, error) { return Parse(x.Name, x.Text, ".") },
			"again": func() (*Scenario, error) { return s.Again(o...) },
		} {
			b.Run(x.Name+"/"+how, func(b *testing.B) {
				for range b.N {
					if _, err := read(); err != nil {
						b.Fatal(err)
					}
				}
			})
		}
	}
}
