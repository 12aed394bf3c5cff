#include "app/command/shape_own.h"

#include <iostream>

#include "app/command/command.h"
#include "core/edit/change.h"
#include "core/file/import/own_lines.h"
#include "core/file/yard_file.h"
#include "core/shapes/chain.h"
#include "core/yard/labels.h"

namespace yw::command {
namespace {

base::LengthUnit unitOf(const std::string& word) {
  if (word == "ft") return base::LengthUnit::Feet;
  if (word == "mm") return base::LengthUnit::Millimetres;
  if (word == "cm") return base::LengthUnit::Centimetres;
  if (word == "m") return base::LengthUnit::Metres;
  return base::LengthUnit::Inches;
}

base::Result<yard::Prop> ownProp(const OwnOptions& options) {
  const base::LengthUnit unit = unitOf(options.unit);
  const auto lines = file::readOwnLines(options.from, unit);
  if (!lines) return tl::unexpected(lines.error());
  for (const base::Message& note : lines->notes) std::cerr << "yardwright: " << base::text(note) << '\n';
  yard::Prop prop = shapes::usualProp("own");
  prop.lines = lines->lines;
  if (!options.name.empty()) prop.name = options.name;
  if (!options.pitch.empty()) {
    const auto pitch = base::parseLength(options.pitch, unit);
    if (!pitch) return tl::unexpected(pitch.error());
    prop.sizes["pitch"] = pitch->count;
  }
  if (options.shortOrder) {
    const auto order = shapes::shortOrder(prop);
    if (!order) return tl::unexpected(order.error());
    prop.stringOrder = *order;
  }
  return prop;
}

}  // namespace

int writeOwn(const OwnOptions& options, bool metric) {
  const auto units = metric ? base::UnitSystem::Metric : base::UnitSystem::FeetInches;
  auto prop = ownProp(options);
  if (!prop) return complain(prop.error());
  const auto shape = shapes::make(*prop);
  if (!shape) return complain(shape.error());
  if (!options.into.empty()) {
    const auto yard = readYard(options.into);
    if (!yard) return complain(yard.error());
    edit::Editor editor(*yard);
    prop->name = yard::freeName(*yard, yard::RecordKind::Prop, prop->name);
    editor.add(*prop);
    if (const auto saved = file::save(editor.yard(), options.into); !saved) return complain(saved.error());
  }
  std::string out = base::text(base::Message{"own_answer",
                                             {{"name", prop->name},
                                              {"lines", static_cast<std::int64_t>(prop->lines.size())},
                                              {"pixels", static_cast<std::int64_t>(shape->pixels.size())},
                                              {"width", shape->width},
                                              {"height", shape->height}}},
                               units) +
                    "\n";
  for (const base::Message& warning : shape->warnings) out += base::text(warning, units) + "\n";
  return writeOut("-", out);
}

}  // namespace yw::command
