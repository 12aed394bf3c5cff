#include "app/command/shape_fit.h"

#include <nlohmann/json.hpp>

#include "app/command/command.h"
#include "core/base/number_text.h"
#include "core/shapes/inverse.h"
#include "core/yard/labels.h"

namespace yw::command {
namespace {

base::Error usage(const std::string& key, std::map<std::string, base::Fact> facts, const std::string& where) {
  return {base::ErrorCode::BadInput, {key, std::move(facts)}, where};
}

base::LengthUnit bareUnit(const FitOptions& options) {
  return options.metric ? base::LengthUnit::Metres : base::LengthUnit::Inches;
}

/// `pitch=2 1/2"`, `strips=16`, `arc=180`: by the sort of the size.
base::Result<std::int64_t> storedValue(const shapes::SizeInfo& size, const std::string& typed,
                                       const FitOptions& options) {
  if (size.type == shapes::SizeType::Length) {
    const auto length = base::parseLength(typed, bareUnit(options));
    if (!length) return tl::unexpected(length.error());
    return length->count;
  }
  const char* unit = size.type == shapes::SizeType::Angle   ? "°"
                     : size.type == shapes::SizeType::Ratio ? "%"
                                                            : "";
  const auto number = base::parseNumber(typed, unit);
  if (!number) return tl::unexpected(number.error());
  const double scale = size.type == shapes::SizeType::Angle   ? 1e6
                       : size.type == shapes::SizeType::Ratio ? 1e4
                                                              : 1;
  if (std::abs(*number) > 1e9)
    return tl::unexpected(usage("fit_number_too_large", {{"typed", typed}}, size.name));
  return std::llround(*number * scale);
}

base::Result<yard::Prop> propOf(const FitOptions& options) {
  yard::Prop prop = shapes::usualProp(options.kind);
  const shapes::Kind* kind = shapes::findKind(options.kind);
  if (!kind) return tl::unexpected(shapes::make(prop).error());
  for (const std::string& given : options.sizes) {
    const std::size_t at = given.find('=');
    if (at == std::string::npos)
      return tl::unexpected(usage("fit_name_and_value", {{"typed", given}}, "--size"));
    const std::string name = given.substr(0, at), value = given.substr(at + 1);
    const auto size =
        std::find_if(kind->sizes.begin(), kind->sizes.end(), [&](const auto& s) { return s.name == name; });
    const auto choice = std::find_if(kind->choices.begin(), kind->choices.end(),
                                     [&](const auto& c) { return c.name == name; });
    if (size != kind->sizes.end()) {
      const auto stored = storedValue(*size, value, options);
      if (!stored) return tl::unexpected(stored.error());
      prop.sizes[name] = *stored;
      yard::Prop alone = shapes::usualProp(options.kind);  // a size out of its range, whatever is solved for
      alone.sizes[name] = *stored;
      if (const auto made = shapes::make(alone);
          !made && made.error().message.key.starts_with("shape_size_too"))
        return tl::unexpected(made.error());
    } else if (choice != kind->choices.end()) {
      prop.choices[name] = value;
    } else {
      prop.sizes[name] = 0;  // make() has the words for a size that is not there
      return tl::unexpected(shapes::make(prop).error());
    }
  }
  return prop;
}

base::Result<std::int64_t> portRoom(const FitOptions& options) {
  const auto yard = readYard(options.yard);
  if (!yard) return tl::unexpected(yard.error());
  for (const auto& [id, port] : yard::all<yard::Port>(*yard))
    if (yard::labelOf(*yard, id) == options.port) return shapes::roomOnPort(*yard, id);
  return tl::unexpected(usage("fit_no_such_port", {}, "--fit-port"));
}

base::Result<shapes::Fit> solved(const FitOptions& options, const yard::Prop& prop) {
  const auto units = options.metric ? base::UnitSystem::Metric : base::UnitSystem::FeetInches;
  shapes::FitRequest request{prop, shapes::Measure::Pixels, options.pixels, options.solve, units};
  if (options.strips > 0)
    return shapes::matchStrips(prop, options.strips, options.stripPixels,
                               options.solve.empty() ? "pitch" : options.solve, units);
  if (!options.port.empty()) {
    const auto room = portRoom(options);
    if (!room) return tl::unexpected(room.error());
    request.limit = *room;
  }
  const std::pair<const std::string&, shapes::Measure> lengths[] = {{options.width, shapes::Measure::Width},
                                                                    {options.height, shapes::Measure::Height},
                                                                    {options.depth, shapes::Measure::Depth},
                                                                    {options.strip, shapes::Measure::Strip}};
  for (const auto& [typed, measure] : lengths) {
    if (typed.empty()) continue;
    const auto limit = base::parseLength(typed, bareUnit(options));
    if (!limit) return tl::unexpected(limit.error());
    request.limit = limit->count;
    request.measure = measure;
  }
  return shapes::fit(request);
}

shapes::Measure measureOf(const FitOptions& options) {
  return !options.width.empty()    ? shapes::Measure::Width
         : !options.height.empty() ? shapes::Measure::Height
         : !options.depth.empty()  ? shapes::Measure::Depth
         : !options.strip.empty()  ? shapes::Measure::Strip
                                   : shapes::Measure::Pixels;
}

}  // namespace

int writeFit(const FitOptions& options) {
  const auto prop = propOf(options);
  if (!prop) return complain(prop.error());
  const auto answer = solved(options, *prop);
  if (!answer) return complain(answer.error());
  const auto units = options.metric ? base::UnitSystem::Metric : base::UnitSystem::FeetInches;
  const auto shape = shapes::make(answer->prop);
  if (!shape) return complain(shape.error());
  const auto pixels = static_cast<std::int64_t>(shape->pixels.size());
  if (options.json) {
    nlohmann::ordered_json json = {{"format", "yardwright-fit"},
                                   {"version", 1},
                                   {"shape", options.kind},
                                   {"size", answer->size},
                                   {"value", answer->value},
                                   {"pixels", pixels},
                                   {"width", shape->width.count},
                                   {"height", shape->height.count},
                                   {"depth", shapes::measured(*shape, shapes::Measure::Depth)},
                                   {"true_pitch", shape->truePitch.count}};
    if (answer->nextValue) json["next_value"] = *answer->nextValue;
    if (answer->nextReached) json["next_reached"] = *answer->nextReached;
    return writeOut("-", json.dump(2) + "\n");
  }
  const shapes::Measure measure = measureOf(options);
  std::string out = base::text(shapes::answerOf(*answer, measure), units) + "\n" +
                    base::text(shapes::nextStepOf(*answer, measure), units) + "\n";
  for (const base::Message& warning : shape->warnings) out += base::text(warning, units) + "\n";
  return writeOut("-", out);
}

}  // namespace yw::command
