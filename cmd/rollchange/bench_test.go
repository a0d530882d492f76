package main

import (
	"context"
	"io"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"rollchange/scenarios"
)

// BenchmarkReport is the page of each shipped scenario, as the scenario asks for
// it, without a memory of the one before. Its profile is what the command is built
// with (default.pgo); DEVELOPERS.md says how.
func BenchmarkReport(b *testing.B) {
	for _, x := range scenarios.Templates() {
		b.Run(x.Name, func(b *testing.B) {
			page := filepath.Join(b.TempDir(), "page.html")
			for b.Loop() {
				code := execute(context.Background(), []string{"report", "-", "-o", page, "--workers", "1"}, strings.NewReader(string(x.Text)), io.Discard, io.Discard)
				require.Equal(b, exitAnswered, code)
			}
		})
	}
}

// BenchmarkQuestions is each question of each shipped scenario that it can answer, without
// a memory of the one before; its profile is part of default.pgo too.
func BenchmarkQuestions(b *testing.B) {
	for _, question := range []string{"size storage", "size speed", "sensitivity"} {
		for _, x := range scenarios.Templates() {
			if question == "size storage" && !strings.Contains(string(x.Text), "storage") {
				continue
			}
			b.Run(question+" "+x.Name, func(b *testing.B) {
				arguments := append(strings.Fields(question), "-", "--json", "--workers", "1")
				for b.Loop() {
					code := execute(context.Background(), arguments, strings.NewReader(string(x.Text)), io.Discard, io.Discard)
					require.Contains(b, []int{exitAnswered, exitNotMet}, code)
				}
			})
		}
	}
}
