package gen

import (
	"fmt"
	"strconv"
	"strings"

	"gridferry/plan"
	"gridferry/plan/digest"
)

// Shard is one of so many parts of the variants of a plan, for as many processes or computers; numbered from 1. The
// zero value is all of them.
type Shard struct{ Number, Of int }

// MostShards is how many there may be.
const MostShards = plan.MostVariants

// ReadShard reads a shard that is written as "3/16".
func ReadShard(text string) (Shard, error) {
	number, of, _ := strings.Cut(text, "/")
	n, err := strconv.Atoi(number)
	all, bad := strconv.Atoi(of)
	if err != nil || bad != nil || n < 1 || all < n || all > MostShards {
		return Shard{}, fmt.Errorf("wanted one of so many, such as 3/16, of %d at the most", MostShards)
	}
	return Shard{n, all}, nil
}

// String is the shard as it is written.
func (s Shard) String() string { return fmt.Sprintf("%d/%d", s.Number, s.Of) }

// Folder is the name of the folder of a shard's programs.
func (s Shard) Folder() string {
	of := strconv.Itoa(s.Of)
	return fmt.Sprintf("shard-%0*d-of-%s", len(of), s.Number, of)
}

// shardIn is the shard whose programs are in a folder of that name; false for any other folder.
func shardIn(folder string) (Shard, bool) {
	number, of, _ := strings.Cut(strings.TrimPrefix(folder, "shard-"), "-of-")
	s, err := ReadShard(number + "/" + of)
	return s, err == nil && s.Folder() == folder
}

// Take is the variants of the shard, in their order. In which one a variant is depends on its name and on how many
// there are, so that it stays there, whatever variants come and go.
func (s Shard) Take(variants []plan.Variant) []plan.Variant {
	if s.Of == 0 {
		return variants
	}
	var own []plan.Variant
	for _, v := range variants {
		if shardOf(v.Name, s.Of) == s {
			own = append(own, v)
		}
	}
	return own
}

func shardOf(variant string, of int) Shard {
	n, _ := strconv.ParseUint(digest.Of(variant)[:15], 16, 64) // it is made of such digits
	return Shard{int(n%uint64(of)) + 1, of}
}
