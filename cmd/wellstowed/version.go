package main

import (
	_ "embed"
	"fmt"
	"runtime"
	"runtime/debug"

	"github.com/spf13/cobra"
)

// version is set where the program is built for release; else what Go knows of the build
// is told.
var version string

//go:embed licences.txt
var licences string // written by testdata/licences

func (m machine) versionCommand() *cobra.Command {
	return &cobra.Command{
		Use:     "version",
		Short:   "Say which version this is, and what it was built with",
		Example: "  wellstowed version",
		Args:    exactArgs(),
		RunE: func(*cobra.Command, []string) error {
			_, err := fmt.Fprintf(m.out, "wellstowed %s, %s, %s/%s\n", builtAs(), runtime.Version(), runtime.GOOS, runtime.GOARCH)
			return err
		},
	}
}

// builtAs is the version, else the commit that was built.
func builtAs() string {
	if version != "" {
		return version
	}
	commit, changed := "unversioned", ""
	if info, ok := debug.ReadBuildInfo(); ok {
		for _, s := range info.Settings {
			switch {
			case s.Key == "vcs.revision":
				commit = s.Value
			case s.Key == "vcs.modified" && s.Value == "true":
				changed = ", changed since"
			}
		}
	}
	return commit + changed
}

func (m machine) licencesCommand() *cobra.Command {
	return &cobra.Command{
		Use:     "licences",
		Short:   "Print the licences of the libraries that are compiled in",
		Example: "  wellstowed licences",
		Args:    exactArgs(),
		RunE: func(*cobra.Command, []string) error {
			_, err := fmt.Fprint(m.out, licences)
			return err
		},
	}
}
