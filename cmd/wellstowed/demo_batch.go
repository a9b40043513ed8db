package main

import (
	"fmt"
	"time"

	"wellstowed/orders"
	"wellstowed/orders/yard"
)

// A demoBatch is a batch of wood and what was written down of it.
type demoBatch struct {
	DaysAgo int               `json:"days_ago"`
	Batch   yard.BatchRequest `json:"batch"`
	// CutDaysAgo and SplitDaysAgo are 0 where the day is not known.
	CutDaysAgo   int            `json:"cut_days_ago"`
	SplitDaysAgo int            `json:"split_days_ago"`
	Moistures    []demoMoisture `json:"moistures"`
	Counts       []demoCount    `json:"counts"`
}

type demoCount struct {
	DaysAgo int             `json:"days_ago"`
	Count   yard.BatchCount `json:"count"`
}

// A demoEvent is one thing done to a batch, some days before today.
type demoEvent struct {
	daysAgo int
	do      func() error
}

// putUp writes down a batch, and keeps for later what became of it.
func (s *seeder) putUp(d demoBatch) error {
	s.at(d.DaysAgo)
	d.Batch.Cut, d.Batch.Split = s.day(d.CutDaysAgo), s.day(d.SplitDaysAgo)
	b, err := s.service.AddBatch(s.ctx, s.act(), d.Batch)
	if err != nil {
		return fmt.Errorf("demo.json: batch %s: %w", d.Batch.Name, err)
	}
	s.batches[b.Name] = b.ID
	for _, m := range d.Moistures {
		s.events = append(s.events, demoEvent{m.DaysAgo, func() error {
			_, err := s.service.AddBatchMoisture(s.ctx, s.act(), b.ID, m.Request)
			return err
		}})
	}
	for _, c := range d.Counts {
		s.events = append(s.events, demoEvent{c.DaysAgo, func() error {
			_, err := s.service.CountBatch(s.ctx, s.act(), b.ID, c.Count)
			return err
		}})
	}
	return nil
}

// catchUp does what was done to batches up to a day, so that a receipt of that day
// rests on no later readings.
func (s *seeder) catchUp(daysAgo int) error {
	var later []demoEvent
	for _, e := range s.events {
		if e.daysAgo < daysAgo {
			later = append(later, e)
			continue
		}
		s.at(e.daysAgo)
		if err := e.do(); err != nil {
			return fmt.Errorf("a batch, %d days ago: %w", e.daysAgo, err)
		}
	}
	s.events = later
	return nil
}

// day is some days before today, empty for 0.
func (s *seeder) day(daysAgo int) string {
	if daysAgo == 0 {
		return ""
	}
	return s.start.AddDate(0, 0, -daysAgo).Format(time.DateOnly)
}

// load is a load as it was delivered, of the batch it names.
func (s *seeder) load(d demoLoad) (orders.LoadRequest, error) {
	err := s.catchUp(d.DaysAgo)
	r := d.Load
	if d.From != "" {
		r.Batch = s.batches[d.From]
	}
	s.at(d.DaysAgo)
	return r, err
}
