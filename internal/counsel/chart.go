package counsel

import (
	"fmt"
	"slices"

	"shopfloat/internal/advice"
	"shopfloat/internal/texts"
)

// weekTick is how many days apart the days are named under a chart.
const weekTick = 7

// DrawAdvice words the chart of an advice.
func DrawAdvice(v *texts.Voice, name string, o *advice.Outlook, a advice.Advice) advice.Chart {
	first, panels := o.Panels(a)
	chart := advice.Chart{
		Title: v.Say("chart.title", "shop", name), Unit: v.Say("chart.unit"), Panels: panels,
		Names: advice.Names{
			Paid: v.Say("chart.paid"), Least: v.Say("chart.least"), Expected: v.Say("chart.expected"),
			Band: v.Say("chart.band", "from", 10, "to", Share(a.Share)), Load: v.Say("chart.load"),
		},
	}
	for i := range panels {
		chart.Panels[i].Name = v.Kind(a.Lines[i].Face)
	}
	days := len(panels[0].Past) + len(panels[0].Ahead)
	mondays := (8 - int(first.Weekday())) % weekTick
	for i := mondays; i < days; i += weekTick {
		at := first.Add(i).Time()
		chart.Ticks = append(chart.Ticks, advice.Tick{Day: i, Text: v.Say("chart.day", "day", at.Day(),
			"month", v.Say(fmt.Sprintf("month.%d", at.Month())))})
	}
	if !slices.ContainsFunc(panels, ranOut) {
		chart.Names.Least = ""
	}
	return chart
}

func ranOut(p advice.Panel) bool {
	return slices.ContainsFunc(p.Past, func(w advice.Was) bool { return w.Least })
}
