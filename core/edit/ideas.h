#pragma once
#include <string>
#include <string_view>

#include "core/edit/change.h"

namespace yw::edit {

/// Ideas are named variants of the yard, each kept as what it has otherwise (yard::Idea). One is shown at a
/// time, or the yard itself; all other code sees only what is shown. Making, showing, naming, dropping and
/// adopting are Changes like any other.

/// The idea that is shown; none: the yard itself is.
Id shownIdea(const Yard& yard);
/// The idea of that name; none if there is none.
Id ideaNamed(const Yard& yard, std::string_view name);

/// What to do where the yard and an idea both changed the same field since they parted.
enum class OnClash { Refuse, KeepYards, KeepIdeas };

/// A new idea that begins as what is shown now, and is shown. Refused: no name, or one that is taken.
base::Result<Change> makeIdea(const Yard& yard, const std::string& name);
base::Result<Change> renameIdea(const Yard& yard, Id idea, const std::string& name);

/// Shows an idea (none: the yard itself). What was changed in the yard since the idea was last shown is
/// merged into it field by field; where both changed the same field it is refused, or goes as `onClash` says.
/// The caller checks that the whole still stands (file::shownWhole).
base::Result<Change> showIdea(const Yard& yard, Id idea, OnClash onClash = OnClash::Refuse);

/// The idea goes; the yard itself is shown if the idea was.
base::Result<Change> dropIdea(const Yard& yard, Id idea);
/// The idea becomes the yard, and is an idea no more.
base::Result<Change> adoptIdea(const Yard& yard, Id idea, OnClash onClash = OnClash::Refuse);

/// `change`, made while an idea is shown, with what that idea must remember of it, so that the edit stays in
/// the idea. The same when asked again; unchanged while the yard itself is shown.
Change keptInIdea(const Yard& before, Change change);

}  // namespace yw::edit
