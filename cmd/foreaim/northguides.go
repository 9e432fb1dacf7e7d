package main

import (
	"cmp"
	"errors"
	"fmt"
	"math"
	"slices"
	"strings"
	"time"
	"unicode"
	"unicode/utf8"

	"foreaim/track"
	"foreaim/track/north"
)

// northHere is all that shows where north is at a site and time.
type northHere struct {
	site      track.Site
	at        time.Time
	field     north.Field
	fieldErr  error   // why there is no field
	skyErr    error   // why there is no sky
	sights    []guide // the sky's
	landmarks []guide
	compass   guide
}

// guide is one thing of a known direction to lay the boom along.
type guide struct {
	name      string
	trueKnown bool
	trueDeg   float64
	sigmaDeg  float64 // standard uncertainty of a facing taken with it by hand
	howTo     string  // a sentence or two
	refusal   string  // why it is of no use now, a sentence; empty when it is
	sighting  *north.Sighting
}

// How well places are known in metres, one standard deviation: one's own by a
// receiver, a landmark's off a map. Common practice, no source.
const siteSigmaM, landmarkSigmaM = 5, 10

// furthestSeenM is from where on a landmark is not looked for (common practice,
// no source): even between mountains few are seen from 150 km. It keeps those
// of another country out of the way.
const furthestSeenM = 150e3

func newNorthHere(site track.Site, at time.Time, landmarks []north.Landmark) northHere {
	n := northHere{site: site, at: at}
	n.field, n.fieldErr = north.At(site.LatitudeDeg, site.LongitudeDeg, site.HeightM, at)
	n.compass = n.compassGuide()
	sights, err := north.Sights(at, site)
	n.skyErr = err
	for _, s := range sights {
		n.sights = append(n.sights, guide{
			name: s.Name, trueKnown: true, trueDeg: s.AzimuthDeg, sigmaDeg: s.UncertaintyDeg, howTo: s.HowTo, refusal: s.Refusal,
		})
	}
	for _, l := range landmarks {
		n.landmarks = append(n.landmarks, n.landmarkGuide(l))
	}
	return n
}

func (n northHere) landmarkGuide(l north.Landmark) guide {
	w := guide{name: l.Name, howTo: "Aim the level boom at it."}
	s, err := l.From(n.site)
	switch {
	case errors.Is(err, track.ErrSamePlace):
		w.refusal = "You stand on it."
		return w
	case err != nil:
		w.refusal = refusal(err)
		return w
	}
	w.trueKnown, w.trueDeg, w.sighting = true, s.BearingDeg, &s
	r, err := north.LandmarkReference(l.Name, s, 0, siteSigmaM, landmarkSigmaM, n.at)
	switch {
	case s.DistanceM > furthestSeenM:
		w.refusal = fmt.Sprintf("It is %.0f km away, too far to be seen.", s.DistanceM/1000)
	case err != nil:
		w.refusal = fmt.Sprintf("It is only %.0f m away: take one further off.", s.DistanceM)
	}
	w.sigmaDeg = r.SigmaDeg
	return w
}

// compassGuide is the needle of a compass, which points along the declination.
func (n northHere) compassGuide() guide {
	w := guide{name: "compass needle"}
	if n.fieldErr != nil {
		w.refusal = refusal(n.fieldErr)
		return w
	}
	r, err := north.CompassReference(north.ByCompass, "", 0, 0, n.field, 0, n.at)
	if err != nil {
		w.refusal = refusal(err)
		return w
	}
	w.trueKnown, w.trueDeg, w.sigmaDeg = true, r.FacingDeg, r.SigmaDeg
	w.howTo = fmt.Sprintf("Read what you face: true = magnetic %s.", sum(n.field.DeclinationDeg))
	return w
}

// refusal makes a sentence of an error of the package north.
func refusal(err error) string {
	return sentence(strings.TrimPrefix(err.Error(), north.ErrReference.Error()+": "))
}

// sentence makes a sentence of a part of one.
func sentence(text string) string {
	first, size := utf8.DecodeRuneInString(text)
	return string(unicode.ToUpper(first)) + text[size:] + "."
}

// guides are all of them, the best first, the refused last.
func (n northHere) guides() []guide {
	all := slices.Concat(n.sights, n.landmarks, []guide{n.compass})
	slices.SortStableFunc(all, func(a, b guide) int {
		if refused := cmp.Compare(len(a.refusal), 0) - cmp.Compare(len(b.refusal), 0); refused != 0 {
			return refused
		}
		if a.refusal != "" {
			return 0
		}
		return cmp.Compare(a.sigmaDeg, b.sigmaDeg)
	})
	return all
}

// magneticDeg turns a true azimuth into a magnetic one; NaN where no compass
// works.
func (n northHere) magneticDeg(trueDeg float64) float64 {
	if n.fieldErr != nil || n.field.Zone == north.Blackout {
		return math.NaN()
	}
	return north.MagneticDeg(trueDeg, n.field.DeclinationDeg)
}

// zoneWords warns where a compass can't be trusted; empty elsewhere.
func zoneWords(z north.Zone) string {
	switch z {
	case north.Caution:
		return "caution zone: the horizontal field is below 6000 nT, a compass may be far off"
	case north.Blackout:
		return "blackout zone: the horizontal field is below 2000 nT, a compass is not to be used"
	}
	return ""
}
