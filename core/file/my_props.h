#pragma once
// The person's own props, for this yard and the next. The library is itself a yard file, with its codec, its
// versions and its way of saving: props without a place, the pixels they are made of, and what was measured
// on them.
#include <filesystem>
#include <string>
#include <vector>

#include "core/base/result.h"
#include "core/edit/change.h"

namespace yw::file {

/// $XDG_DATA_HOME, else $HOME/.local/share, then yardwright/my-props.yard (XDG base directory specification);
/// empty if neither is set.
std::filesystem::path myPropsFile();

/// The library; an empty one if there is no such file yet. Errors: as open().
base::Result<yard::Yard> readMyProps(const std::filesystem::path& path);

/// Saves the library, making its folder first.
base::Result<void> saveMyProps(const yard::Yard& library, const std::filesystem::path& path);

/// Props of a library by name, in the order they were kept.
std::vector<std::pair<yard::Id, std::string>> myPropNames(const yard::Yard& library);

/// The library with this prop of a yard kept: its sizes, choices, order, named parts, mount, its pixel with
/// the measured current, and the measurements at its pixels. One of the same name is replaced. Errors: no
/// such prop, or one without a name.
base::Result<yard::Yard> withMyProp(const yard::Yard& library, const yard::Yard& yard, yard::Id prop);

/// The library without it.
yard::Yard withoutMyProp(const yard::Yard& library, yard::Id prop);

/// Puts a prop of the library into a yard at a place, with its pixel and measurements; pixels and wires that
/// the yard has already, figure for figure, are not added again. Its id there; none if it is not in it.
yard::Id putMyProp(edit::Editor& editor, const yard::Yard& library, yard::Id prop, yard::Point at);

}  // namespace yw::file
