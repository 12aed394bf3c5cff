#include "core/file/my_props.h"

#include <cstdlib>

#include "core/file/yard_file.h"
#include "core/yard/labels.h"

namespace yw::file {

namespace fs = std::filesystem;
using yard::Id;
using yard::Yard;

namespace {

/// The record with all the same figures, else a copy of it added.
template <class R>
Id sameOrAdded(edit::Editor& editor, const R& record) {
  for (const auto& [id, other] : yard::all<R>(editor.yard()))
    if (*other == record) return id;
  return editor.add(record);
}

/// A product of another yard, with the wire of its string.
Id takeProduct(edit::Editor& editor, const Yard& from, Id productId) {
  const auto* product = yard::find<yard::Product>(from, productId);
  if (!product) return {};
  yard::Product copy = *product;
  const auto* wire = yard::find<yard::Wire>(from, copy.stringWire);
  copy.stringWire = wire ? sameOrAdded(editor, *wire) : Id{};
  return sameOrAdded(editor, copy);
}

bool isAt(const yard::Measurement& measured, Id prop) {
  return measured.at.record == prop &&
         (measured.at.kind == yard::TerminalKind::PropPixel ||
          measured.at.kind == yard::TerminalKind::PropIn || measured.at.kind == yard::TerminalKind::PropOut);
}

/// Copies the prop with all that goes with it.
Id copyOver(edit::Editor& editor, const Yard& from, Id id, yard::Prop prop) {
  prop.product = takeProduct(editor, from, yard::productIdOf(from, *yard::find<yard::Prop>(from, id)));
  const Id made = editor.add(std::move(prop));
  for (const auto& [measuredId, measured] : yard::all<yard::Measurement>(from)) {
    if (!isAt(*measured, id)) continue;
    yard::Measurement copy = *measured;
    copy.at.record = made;
    editor.add(copy);
  }
  return made;
}

}  // namespace

fs::path myPropsFile() {
  const auto folder = [](const char* name) -> fs::path {
    const char* value = std::getenv(name);
    return value != nullptr && *value == '/' ? fs::path(value) : fs::path();
  };
  fs::path data = folder("XDG_DATA_HOME");
  if (data.empty() && !folder("HOME").empty()) data = folder("HOME") / ".local" / "share";
  return data.empty() ? fs::path() : data / "yardwright" / "my-props.yard";
}

base::Result<Yard> readMyProps(const fs::path& path) {
  std::error_code error;
  if (!fs::exists(path, error)) return yard::emptyYard();
  auto opened = open(path);
  if (!opened) return tl::unexpected(opened.error());
  return std::move(opened->yard);
}

base::Result<void> saveMyProps(const Yard& library, const fs::path& path) {
  if (path.empty()) return base::fail(base::ErrorCode::CannotWrite, {"my_props_no_home", {}});
  std::error_code error;
  fs::create_directories(path.parent_path(), error);
  if (error)
    return base::fail(
        base::ErrorCode::CannotWrite,
        {"cannot_make_folder", {{"path", path.parent_path().string()}, {"why", error.message()}}});
  return save(library, path);
}

std::vector<std::pair<Id, std::string>> myPropNames(const Yard& library) {
  std::vector<std::pair<Id, std::string>> names;
  for (const auto& [id, prop] : yard::all<yard::Prop>(library)) names.emplace_back(id, prop->name);
  return names;
}

base::Result<Yard> withMyProp(const Yard& library, const Yard& yard, Id propId) {
  const auto* prop = yard::find<yard::Prop>(yard, propId);
  if (!prop) return base::fail(base::ErrorCode::BadInput, {"my_props_none", {}});
  if (prop->name.empty()) return base::fail(base::ErrorCode::BadInput, {"my_props_no_name", {}}, "name");
  edit::Editor editor(library);
  for (const auto& [id, name] : myPropNames(library))
    if (name == prop->name) editor.remove(id);
  yard::Prop kept = *prop;
  kept.at = {};
  kept.wall = {};
  kept.heading = {};
  kept.locked = false;
  copyOver(editor, yard, propId, std::move(kept));
  return editor.yard();
}

Yard withoutMyProp(const Yard& library, Id prop) {
  edit::Editor editor(library);
  editor.remove(prop);
  return editor.yard();
}

Id putMyProp(edit::Editor& editor, const Yard& library, Id propId, yard::Point at) {
  const auto* mine = yard::find<yard::Prop>(library, propId);
  if (!mine) return {};
  yard::Prop prop = *mine;
  prop.at = at;
  prop.name = yard::freeName(editor.yard(), yard::RecordKind::Prop, prop.name);
  return copyOver(editor, library, propId, std::move(prop));
}

}  // namespace yw::file
