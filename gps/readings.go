package gps

import (
	"cmp"
	"slices"
)

// keepBest adds a reading; of those close together only the best is kept.
func keepBest(list []reading, r reading) []reading {
	if n := len(list); n > 0 {
		if age := r.at.Sub(list[n-1].at); age >= 0 && age < bucketAge {
			if r.offsetS > list[n-1].offsetS {
				list[n-1].offsetS, list[n-1].delay = r.offsetS, r.delay
			}
			return list
		}
	}
	if len(list) == windowSize {
		list = slices.Delete(list, 0, 1)
	}
	return append(list, r)
}

// best gives the least delayed reading; of many the second, in case one was
// wrong.
func best(list []reading) reading {
	sorted := inOrder(list)
	if n := len(sorted); n >= 8 {
		return sorted[n-2]
	}
	return sorted[len(sorted)-1]
}

// spread is the difference of the largest and the smallest offset.
func spread(list []reading) float64 {
	sorted := inOrder(list)
	return sorted[len(sorted)-1].offsetS - sorted[0].offsetS
}

// inOrder gives the readings in the order of rising offsets.
func inOrder(list []reading) []reading {
	sorted := slices.Clone(list)
	slices.SortFunc(sorted, func(a, b reading) int { return cmp.Compare(a.offsetS, b.offsetS) })
	return sorted
}
