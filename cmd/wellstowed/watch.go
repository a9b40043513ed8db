package main

import (
	"context"
	"fmt"
	"io"
	"log/slog"
	"net"

	"github.com/spf13/pflag"
)

// watchFlags say what whoever keeps the machine is told.
type watchFlags struct {
	format   string
	requests bool
	metrics  string
}

func (w *watchFlags) flags(f *pflag.FlagSet) {
	f.StringVar(&w.format, "log-format", "text", "how the log is written: text, or json, an object a line")
	f.BoolVar(&w.requests, "log-requests", false, "log each answer: its name, route, status and time, and nothing of what was asked")
	f.StringVar(&w.metrics, "metrics-listen", "", "address of this machine that gives counts and times of answers at /metrics (OpenMetrics), such as 127.0.0.1:9128")
}

func (w watchFlags) check(ctx context.Context) error {
	if w.format != "text" && w.format != "json" {
		return refuse("--log-format: read %q; accepted: text, json", w.format)
	}
	if w.metrics == "" {
		return nil
	}
	host, _, err := net.SplitHostPort(w.metrics)
	if err != nil || !loopback(ctx, host) {
		return refuse("--metrics-listen: read %q; accepted: an address and port of this machine alone, such as 127.0.0.1:9128", w.metrics)
	}
	return nil
}

// log writes what happens at a level that people are to see.
func (w watchFlags) log(to io.Writer) *slog.Logger {
	options := &slog.HandlerOptions{Level: slog.LevelWarn}
	if w.requests {
		options.Level = slog.LevelInfo
	}
	if w.format == "json" {
		return slog.New(slog.NewJSONHandler(to, options))
	}
	return slog.New(slog.NewTextHandler(to, options))
}

// listen gives the listener for metrics, nil where there are none to be.
func (w watchFlags) listen(ctx context.Context) (net.Listener, error) {
	if w.metrics == "" {
		return nil, nil
	}
	l, err := new(net.ListenConfig).Listen(ctx, "tcp", w.metrics)
	if err != nil {
		return nil, fmt.Errorf("cannot listen on %s: %w; give another address with --metrics-listen, port 0 takes a free one", w.metrics, err)
	}
	return l, nil
}
