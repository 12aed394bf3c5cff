#pragma once
#include <set>
#include <string>

#include "core/edit/ideas.h"

namespace yw::file {

/// Reads what the ideas of a yard have otherwise and puts it as we would write it; what the shown idea has is
/// taken from the records that stand there. Refused: a side that is no record, another record than it says,
/// an idea inside an idea, two ideas shown.
base::Result<void> tidyIdeas(yard::Yard& yard);

/// Pictures that an idea names on either side.
std::set<std::string> picturesOf(const yard::Idea& idea);

/// A change that shows or adopts an idea, if the yard it makes could be saved: else why not, with the idea's
/// name.
base::Result<edit::Change> wholeOrRefused(const yard::Yard& yard, base::Result<edit::Change> change,
                                          base::Id idea);

}  // namespace yw::file
