//go:build race

package rehearse

const underRace = true
