package gps

import "slices"

// keepBest adds a reading; of those within one second only the best is kept.
func keepBest(list []reading, r reading) []reading {
	if n := len(list); n > 0 {
		if age := r.at.Sub(list[n-1].at); age >= 0 && age < bucketAge {
			list[n-1].offsetS = max(list[n-1].offsetS, r.offsetS)
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
func best(list []reading) float64 {
	sorted := offsets(list)
	if n := len(sorted); n >= 8 {
		return sorted[n-2]
	}
	return sorted[len(sorted)-1]
}

// spread is the difference of the largest and the smallest offset.
func spread(list []reading) float64 {
	sorted := offsets(list)
	return sorted[len(sorted)-1] - sorted[0]
}

// offsets gives the offsets in rising order.
func offsets(list []reading) []float64 {
	all := make([]float64, len(list))
	for i, r := range list {
		all[i] = r.offsetS
	}
	slices.Sort(all)
	return all
}
