#include "app/command/shape_mine.h"

#include "app/command/command.h"
#include "core/file/my_props.h"
#include "core/file/yard_file.h"
#include "core/shapes/shape.h"

namespace yw::command {
namespace {

base::Id named(const yard::Yard& yard, const std::string& name) {
  for (const auto& [id, prop] : yard::all<yard::Prop>(yard))
    if (prop->name == name) return id;
  return {};
}

int say(const base::Message& message) { return writeOut("-", base::text(message) + "\n"); }

int keep(const MineOptions& options, const yard::Yard& library) {
  const auto yard = readYard(options.yard);
  if (!yard) return complain(yard.error());
  const auto kept = file::withMyProp(library, *yard, named(*yard, options.keep));
  if (!kept) return complain(kept.error());
  if (const auto saved = file::saveMyProps(*kept, file::myPropsFile()); !saved)
    return complain(saved.error());
  return say({"my_props_kept", {{"name", options.keep}, {"path", file::myPropsFile().string()}}});
}

int put(const MineOptions& options, const yard::Yard& library) {
  const base::Id mine = named(library, options.put);
  if (!mine)
    return complain({base::ErrorCode::BadInput, {"my_props_unknown", {{"typed", options.put}}}, "--put"});
  const auto yard = readYard(options.into);
  if (!yard) return complain(yard.error());
  edit::Editor editor(*yard);
  const base::Id made = file::putMyProp(editor, library, mine, {});
  if (const auto saved = file::save(editor.yard(), options.into); !saved) return complain(saved.error());
  return say({"my_props_put", {{"name", yard::find<yard::Prop>(editor.yard(), made)->name}}});
}

int list(const yard::Yard& library) {
  std::string out;
  for (const auto& [id, prop] : yard::all<yard::Prop>(library)) {
    const auto* kind = shapes::findKind(prop->kind);
    const auto shape = shapes::make(*prop);
    const auto* product = yard::productOf(library, *prop);
    out += base::text(base::Message{
               "my_props_line",
               {{"name", prop->name},
                {"kind", kind ? kind->label : prop->kind},
                {"pixels", shape ? static_cast<std::int64_t>(shape->pixels.size()) : std::int64_t{0}},
                {"product", product ? product->name : std::string()}}}) +
           "\n";
  }
  return out.empty() ? say({"my_props_empty", {}}) : writeOut("-", out);
}

}  // namespace

int runMine(const MineOptions& options) {
  const auto library = file::readMyProps(file::myPropsFile());
  if (!library) return complain(library.error());
  if (!options.keep.empty()) return keep(options, *library);
  if (!options.put.empty()) return put(options, *library);
  return list(*library);
}

}  // namespace yw::command
