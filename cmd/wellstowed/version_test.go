package main

import (
	"os/exec"
	"runtime"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

func TestVersionSaysWhatWasBuilt(t *testing.T) {
	r := program(t, "", "version")
	require.Equal(t, exitDone, r.code, r.err)
	assert.Regexp(t, `^wellstowed \S.*, `+runtime.Version()+`, `+runtime.GOOS+`/`+runtime.GOARCH+`\n$`, r.out)
}

// Each module that is compiled in has its licence printed.
func TestLicencesAreThoseOfWhatIsCompiledIn(t *testing.T) {
	r := program(t, "", "licences")
	require.Equal(t, exitDone, r.code, r.err)
	list, err := exec.Command("go", "list", "-deps", "-f", "{{with .Module}}{{if not .Main}}{{.Path}} {{.Version}}{{end}}{{end}}", ".").Output()
	require.NoError(t, err)
	for _, module := range strings.Fields(strings.ReplaceAll(string(list), " ", "\x00")) {
		assert.Contains(t, r.out, strings.ReplaceAll(module, "\x00", " ")+"\n")
	}
	assert.Contains(t, r.out, "Redistribution and use in source and binary forms")
}

// The unit is one that systemd takes.
func TestUnitIsOneOfSystemd(t *testing.T) {
	tool, err := exec.LookPath("systemd-analyze")
	toolOr(t, err, "no systemd-analyze is installed:")
	said, _ := exec.Command(tool, "verify", "wellstowed.service").CombinedOutput() // it ends with a fault where the program isn't installed
	text := string(said)
	for line := range strings.Lines(text) {
		if !strings.Contains(line, "is not executable") { // the program isn't installed here
			assert.NotContains(t, line, "wellstowed.service", text)
		}
	}
}
