// Package wide reads daily figures of many series from one table of comma
// separated values: a date column, then one column a series.
package wide

import (
	"bufio"
	"encoding/csv"
	"errors"
	"fmt"
	"io"
	"math"
	"strconv"
	"strings"

	"shopfloat/internal/demand"
)

// DaysMax bounds the span of a table, so that one mistyped year cannot ask for
// centuries of empty days.
const DaysMax = 20000

// Table holds one value a series and day from First on, without gaps.
type Table struct {
	First  demand.Day
	Days   int
	Series []Series
}

// Series is one column. Values are notes, or any unit, a day; NaN is missing.
type Series struct {
	Name   string
	Values []float64
}

// Last is the last day of the table.
func (t Table) Last() demand.Day { return t.First + demand.Day(t.Days-1) }

// Read takes a header `date,series…` and rows in order of date. Lines that start
// with # are comments, a column named `set` is skipped, an empty field and a
// day without a row are missing. Every error names the line.
func Read(in io.Reader) (Table, error) {
	buffered := bufio.NewReader(in)
	if mark, err := buffered.Peek(3); err == nil && string(mark) == "\uFEFF" {
		_, _ = buffered.Discard(3)
	}
	rows := csv.NewReader(buffered)
	rows.Comment, rows.ReuseRecord = '#', true
	header, err := rows.Read()
	if errors.Is(err, io.EOF) {
		return Table{}, errors.New("the file is empty: want a header date,series…")
	}
	if err != nil {
		return Table{}, err
	}
	b, err := newBuilder(header)
	if err != nil {
		return Table{}, err
	}
	for {
		row, err := rows.Read()
		if errors.Is(err, io.EOF) {
			break
		}
		if err != nil {
			return Table{}, err
		}
		line, _ := rows.FieldPos(0)
		if err := b.add(row); err != nil {
			return Table{}, fmt.Errorf("line %d: %w", line, err)
		}
	}
	if b.table.Days == 0 {
		return Table{}, errors.New("no days: want one row a day below the header")
	}
	return b.table, nil
}

// builder grows a table row by row.
type builder struct {
	table   Table
	columns []int // field number of each series
}

func newBuilder(header []string) (*builder, error) {
	if strings.TrimSpace(header[0]) != "date" {
		return nil, fmt.Errorf("first column is %q: want date", header[0])
	}
	b := &builder{}
	seen := map[string]bool{}
	for i, name := range header[1:] {
		name = strings.TrimSpace(name)
		if name == "set" {
			continue
		}
		if name == "" || seen[name] {
			return nil, fmt.Errorf("column %d: series name %q is empty or used twice", i+2, name)
		}
		seen[name] = true
		b.table.Series = append(b.table.Series, Series{Name: name})
		b.columns = append(b.columns, i+1)
	}
	if len(b.columns) == 0 {
		return nil, errors.New("no series: want at least one column beside date")
	}
	return b, nil
}

func (b *builder) add(row []string) error {
	day, err := demand.ParseDay(strings.TrimSpace(row[0]))
	if err != nil {
		return err
	}
	if err := b.skipTo(day); err != nil {
		return err
	}
	for i, column := range b.columns {
		value, err := parse(strings.TrimSpace(row[column]))
		if err != nil {
			return fmt.Errorf("series %s: %w", b.table.Series[i].Name, err)
		}
		b.table.Series[i].Values = append(b.table.Series[i].Values, value)
	}
	b.table.Days++
	return nil
}

// skipTo fills the days that have no row up to day with missing values.
func (b *builder) skipTo(day demand.Day) error {
	if b.table.Days == 0 {
		b.table.First = day
		return nil
	}
	if day <= b.table.Last() {
		return fmt.Errorf("date %s does not come after %s", day, b.table.Last())
	}
	if int(day-b.table.First) >= DaysMax {
		return fmt.Errorf("date %s is more than %d days after %s", day, DaysMax, b.table.First)
	}
	for b.table.Last()+1 < day {
		for i := range b.table.Series {
			b.table.Series[i].Values = append(b.table.Series[i].Values, math.NaN())
		}
		b.table.Days++
	}
	return nil
}

func parse(field string) (float64, error) {
	if field == "" {
		return math.NaN(), nil
	}
	v, err := strconv.ParseFloat(field, 64)
	if err != nil || math.IsNaN(v) || math.IsInf(v, 0) {
		return 0, fmt.Errorf("%q is not a number", field)
	}
	if v < 0 {
		return 0, fmt.Errorf("%q is below zero", field)
	}
	return v, nil
}
