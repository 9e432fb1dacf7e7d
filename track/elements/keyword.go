package elements

// key is a keyword of an OMM (CCSDS 502.0-B-3, 4.2), in the standard's order.
type key int

const (
	version key = iota
	comment
	marking // CLASSIFICATION, of the message
	creationDate
	originator
	messageID

	objectName
	objectID
	center
	frame
	frameEpoch
	timeSystem
	theory

	epoch
	keyAxis
	keyMotion
	keyEccentricity
	keyInclination
	keyNode
	keyPericenter
	keyAnomaly
	keyGM

	mass
	solarArea
	solarCoefficient
	dragArea
	dragCoefficient

	ephemerisType
	classification
	catalogID
	elementSet
	revolution
	keyDrag
	keyBTerm
	keyMotionDot
	keyMotionDDot
	keyAgom

	covFrame
	covFirst
	covLast  = covFirst + 20
	keyCount = covLast + 1
)

// block is a part of a message, named as its XML element.
type block string

const (
	blockHeader     block = "header"
	blockMetadata   block = "metadata"
	blockElements   block = "meanElements"
	blockSpacecraft block = "spacecraftParameters"
	blockTLE        block = "tleParameters"
	blockCovariance block = "covarianceMatrix"
	blockUser       block = "userDefinedParameters"
)

// keyword is what the standard says of one keyword.
type keyword struct {
	name    string
	block   block
	unit    string // as printed in brackets; empty: none
	numeric bool
	rest    bool // kept in Set.Rest
}

func (k key) String() string { return keywords[k].name }

var keywords = [keyCount]keyword{
	version:      {name: "CCSDS_OMM_VERS", block: blockHeader},
	comment:      {name: "COMMENT", block: blockHeader, rest: true},
	marking:      {name: "CLASSIFICATION", block: blockHeader, rest: true},
	creationDate: {name: "CREATION_DATE", block: blockHeader, rest: true},
	originator:   {name: "ORIGINATOR", block: blockHeader, rest: true},
	messageID:    {name: "MESSAGE_ID", block: blockHeader, rest: true},

	objectName: {name: "OBJECT_NAME", block: blockMetadata},
	objectID:   {name: "OBJECT_ID", block: blockMetadata},
	center:     {name: "CENTER_NAME", block: blockMetadata},
	frame:      {name: "REF_FRAME", block: blockMetadata},
	frameEpoch: {name: "REF_FRAME_EPOCH", block: blockMetadata, rest: true},
	timeSystem: {name: "TIME_SYSTEM", block: blockMetadata},
	theory:     {name: "MEAN_ELEMENT_THEORY", block: blockMetadata},

	epoch:           {name: "EPOCH", block: blockElements},
	keyAxis:         {name: "SEMI_MAJOR_AXIS", block: blockElements, unit: "km", numeric: true},
	keyMotion:       {name: "MEAN_MOTION", block: blockElements, unit: "rev/day", numeric: true},
	keyEccentricity: {name: "ECCENTRICITY", block: blockElements, numeric: true},
	keyInclination:  {name: "INCLINATION", block: blockElements, unit: "deg", numeric: true},
	keyNode:         {name: "RA_OF_ASC_NODE", block: blockElements, unit: "deg", numeric: true},
	keyPericenter:   {name: "ARG_OF_PERICENTER", block: blockElements, unit: "deg", numeric: true},
	keyAnomaly:      {name: "MEAN_ANOMALY", block: blockElements, unit: "deg", numeric: true},
	keyGM:           {name: "GM", block: blockElements, unit: "km**3/s**2", numeric: true, rest: true},

	mass:             {name: "MASS", block: blockSpacecraft, unit: "kg", numeric: true, rest: true},
	solarArea:        {name: "SOLAR_RAD_AREA", block: blockSpacecraft, unit: "m**2", numeric: true, rest: true},
	solarCoefficient: {name: "SOLAR_RAD_COEFF", block: blockSpacecraft, numeric: true, rest: true},
	dragArea:         {name: "DRAG_AREA", block: blockSpacecraft, unit: "m**2", numeric: true, rest: true},
	dragCoefficient:  {name: "DRAG_COEFF", block: blockSpacecraft, numeric: true, rest: true},

	ephemerisType:  {name: "EPHEMERIS_TYPE", block: blockTLE, numeric: true},
	classification: {name: "CLASSIFICATION_TYPE", block: blockTLE},
	catalogID:      {name: "NORAD_CAT_ID", block: blockTLE, numeric: true},
	elementSet:     {name: "ELEMENT_SET_NO", block: blockTLE, numeric: true},
	revolution:     {name: "REV_AT_EPOCH", block: blockTLE, numeric: true},
	keyDrag:        {name: "BSTAR", block: blockTLE, unit: "1/ER", numeric: true},
	keyBTerm:       {name: "BTERM", block: blockTLE, unit: "m**2/kg", numeric: true, rest: true},
	keyMotionDot:   {name: "MEAN_MOTION_DOT", block: blockTLE, unit: "rev/day**2", numeric: true},
	keyMotionDDot:  {name: "MEAN_MOTION_DDOT", block: blockTLE, unit: "rev/day**3", numeric: true},
	keyAgom:        {name: "AGOM", block: blockTLE, unit: "m**2/kg", numeric: true, rest: true},

	covFrame:      {name: "COV_REF_FRAME", block: blockCovariance, rest: true},
	covFirst:      covariance("CX_X", "km**2"),
	covFirst + 1:  covariance("CY_X", "km**2"),
	covFirst + 2:  covariance("CY_Y", "km**2"),
	covFirst + 3:  covariance("CZ_X", "km**2"),
	covFirst + 4:  covariance("CZ_Y", "km**2"),
	covFirst + 5:  covariance("CZ_Z", "km**2"),
	covFirst + 6:  covariance("CX_DOT_X", "km**2/s"),
	covFirst + 7:  covariance("CX_DOT_Y", "km**2/s"),
	covFirst + 8:  covariance("CX_DOT_Z", "km**2/s"),
	covFirst + 9:  covariance("CX_DOT_X_DOT", "km**2/s**2"),
	covFirst + 10: covariance("CY_DOT_X", "km**2/s"),
	covFirst + 11: covariance("CY_DOT_Y", "km**2/s"),
	covFirst + 12: covariance("CY_DOT_Z", "km**2/s"),
	covFirst + 13: covariance("CY_DOT_X_DOT", "km**2/s**2"),
	covFirst + 14: covariance("CY_DOT_Y_DOT", "km**2/s**2"),
	covFirst + 15: covariance("CZ_DOT_X", "km**2/s"),
	covFirst + 16: covariance("CZ_DOT_Y", "km**2/s"),
	covFirst + 17: covariance("CZ_DOT_Z", "km**2/s"),
	covFirst + 18: covariance("CZ_DOT_X_DOT", "km**2/s**2"),
	covFirst + 19: covariance("CZ_DOT_Y_DOT", "km**2/s**2"),
	covLast:       covariance("CZ_DOT_Z_DOT", "km**2/s**2"),
}

func covariance(name, unit string) keyword {
	return keyword{name: name, block: blockCovariance, unit: unit, numeric: true, rest: true}
}

var keyNames = func() map[string]key {
	names := make(map[string]key, keyCount)
	for k := range keyCount {
		names[keywords[k].name] = k
	}
	return names
}()

// keyOf finds a keyword, written as the standard writes it.
func keyOf(name []byte) (key, bool) {
	k, ok := keyNames[string(name)]
	return k, ok
}

// userPrefix leads the name of a user-defined parameter.
const userPrefix = "USER_DEFINED_"

// isUser tells whether name is that of a user-defined parameter: capitals,
// digits and underscores, as the standard writes keywords.
func isUser[T string | []byte](name T) bool {
	return len(name) > len(userPrefix) && len(name) <= 100 && string(name[:len(userPrefix)]) == userPrefix && isKeyword(name)
}

// isKeyword tells whether name could be a keyword.
func isKeyword[T string | []byte](name T) bool {
	for i := range len(name) {
		c := name[i]
		if (c < 'A' || c > 'Z') && (c < '0' || c > '9') && c != '_' {
			return false
		}
	}
	return len(name) > 0
}
