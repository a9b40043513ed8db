package main

import (
	"encoding/json"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// inShed is a cord in a shed, as flags.
func inShed(more ...string) []string {
	return append([]string{"storage", "--quantity", "1 cord", "--pieces", "16 in", "--place", "shed",
		"--width", "14 ft", "--depth", "5 ft", "--height", "7 ft"}, more...)
}

func TestStorageForPeople(t *testing.T) {
	r := program(t, "", inShed()...)
	require.Equal(t, exitDone, r.code, r.err)
	first, _, _ := strings.Cut(r.out, "\n")
	assert.Equal(t, "1 cord (128 ft³) finds room here.", first)
	for _, want := range []string{"Plan 1: 2 rows, each 13 ft 2 in long and 44 in high.", "40 psf (1.9 kPa)", "ask a qualified person", "snow load", "local fire code"} {
		assert.Contains(t, r.out, want)
	}
	assert.Contains(t, program(t, "", inShed("--units", "metric")...).out, "3.62 m³ stacked")
}

func TestStorageSaysWhatFits(t *testing.T) {
	r := program(t, "", "storage", "--quantity", "1 1/2 cords", "--pieces", "16 in", "--place", "alcove", "--width", "6 ft", "--depth", "3 ft", "--height", "7 ft")
	require.Equal(t, exitDone, r.code, r.err)
	assert.Contains(t, r.out, "0.2 cord (26.1 ft³) finds room here; 1.3 cords (165.9 ft³) does not.")
}

func TestStorageForPrograms(t *testing.T) {
	r := program(t, "", inShed("--json")...)
	require.Equal(t, exitDone, r.code, r.err)
	var got struct {
		Fits    bool
		Layouts []struct {
			Rows   int
			Length float64                     `json:"row_length_inches"`
			Height float64                     `json:"height_inches"`
			Green  struct{ Low, High float64 } `json:"green_psf"`
		}
	}
	require.NoError(t, json.Unmarshal([]byte(r.out), &got), r.out)
	require.True(t, got.Fits)
	l := got.Layouts[0]
	assert.GreaterOrEqual(t, float64(l.Rows)*l.Length*l.Height*16, 128*1728.0)
	// The least and the most: 27 lb/ft³ and 70 ft³ solid a cord, 68 and 90, 44 in high.
	assert.InDelta(t, 27*70/128.0*44/12, l.Green.Low, 0.01)
	assert.InDelta(t, 68*90/128.0*44/12, l.Green.High, 0.01)
}

func TestStorageWritesAPlan(t *testing.T) {
	out := filepath.Join(t.TempDir(), "plan.pdf")
	r := program(t, "", inShed("-o", out, "--paper", "a4", "--plan", "2")...)
	require.Equal(t, exitDone, r.code, r.err)
	pdf, err := os.ReadFile(out)
	require.NoError(t, err)
	assert.True(t, strings.HasPrefix(string(pdf), "%PDF-"))
	assert.Equal(t, exitRefused, program(t, "", inShed("-o", out)...).code, "a file is never overwritten")
}

func TestStorageRefusesAndSaysWhy(t *testing.T) {
	for _, row := range []struct {
		says string
		args []string
	}{
		{"--quantity", []string{"storage", "--width", "6 ft", "--depth", "3 ft"}},
		{"--width: enter a length with its unit, such as 6 ft, 16 in or 1.8 m", []string{"storage", "--quantity", "1 cord", "--depth", "3 ft"}},
		{"--pieces: read “16”", inShed("--pieces", "16")},
		{"wall, porch, alcove", inShed("--place", "attic")},
		{"--plan", inShed("--plan", "9", "-o", filepath.Join(t.TempDir(), "no.pdf"))},
		{"metric", inShed("--units", "cubits")},
		{"a4", inShed("--paper", "legal")},
		{"takes 0 arguments", inShed("more")},
	} {
		r := program(t, "", row.args...)
		assert.Equal(t, exitRefused, r.code, row.says)
		assert.Contains(t, r.err, row.says)
	}
	r := program(t, "", "storage", "--json")
	assert.Equal(t, exitRefused, r.code)
	assert.Contains(t, r.out, `"error"`)
}
