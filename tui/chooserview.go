package tui

import (
	"fmt"
	"strings"
)

// candidateForms lay a satellite out, from the fullest form to the shortest:
// its name, number, designator and the day of its elements.
var candidateForms = [...]string{"%-26s %9s  %-11s  %s", "%-22s %9s  %.0s%s", "%-12s %9s%.0s%.0s", "%s%.0s%.0s%.0s"}

// draw draws the view.
func (c *chooser) draw(page *canvas, s *scene, hasCatalogue bool, footer []string) {
	title := "Satellite: " + c.text + "_"
	page.text(1, 0, strong, page.fit(page.columns-2, title, c.text+"_"))
	if count := c.count(); cells(title)+cells(count)+4 <= page.columns {
		page.right(page.columns-1, 0, plain, count)
	}
	form := candidateForms[0]
	for _, form = range candidateForms {
		if cells(fmt.Sprintf(form, "", "", "", "2006-01-02")) <= page.columns-2 {
			break
		}
	}
	line := func(y int, name, number, launch, day string) {
		name = fit(26, name)
		page.text(1, y, plain, page.fit(page.columns-2, strings.TrimRight(fmt.Sprintf(form, name, number, launch, day), " ")))
	}
	line(1, "Name", "Number", "Launch", "Elements of")
	rows := max(page.rows-4, 1)
	c.top = max(0, min(c.top, c.selected))
	if c.selected >= c.top+rows {
		c.top = c.selected - rows + 1
	}
	for i := c.top; i < len(c.found) && i < c.top+rows; i++ {
		f, y := c.found[i], 2+i-c.top
		line(y, f.name, numberText(f.set.CatalogueNumber), clean(f.set.Designator), f.set.Epoch.UTC().Format("2006-01-02"))
		if i == c.selected {
			page.bar(0, y, page.columns, block)
			page.set(0, y, block, '>')
		}
	}
	if page.rows > 4 {
		how := plain
		if c.problem != "" {
			how = warning
		}
		page.text(1, page.rows-2, how, page.fit(page.columns-2, c.note(hasCatalogue)...))
	}
	if page.rows > 3 {
		drawFooter(page, page.rows-1, s, footer)
	}
}

// count says how many satellites are listed.
func (c *chooser) count() string {
	switch {
	case c.text == "":
		return ""
	case len(c.found) >= mostFound:
		return fmt.Sprintf("the first %d", len(c.found))
	case len(c.found) == 1:
		return "1 fits"
	}
	return fmt.Sprintf("%d fit", len(c.found))
}

// note says what is going on or how to go on, from the fullest to the shortest.
func (c *chooser) note(hasCatalogue bool) []string {
	const how = "Type part of a name, designator or number"
	switch {
	case c.loading != "":
		return []string{"Reading the orbit of " + c.loading + " …"}
	case c.opening:
		return []string{"Reading the catalogue …"}
	case c.problem != "":
		return []string{"No catalogue: " + c.problem, "No catalogue"}
	case c.catalogue != nil && c.text == "":
		return []string{fmt.Sprintf("%s: %d objects in the catalogue", how, c.catalogue.Len()), how}
	case len(c.found) == 0:
		return []string{"Nothing fits: type less of it (Backspace)", "Nothing fits"}
	case !hasCatalogue && c.text == "":
		return []string{how, "Type part of a name"}
	}
	return []string{""}
}
