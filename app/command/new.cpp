#include <algorithm>
#include <filesystem>
#include <iostream>
#include <map>

#include "app/command/command.h"
#include "core/edit/change.h"
#include "core/file/import/outlines.h"
#include "core/file/yard_file.h"

namespace yw::command {

namespace {
struct Options {
  std::string to = "-", name, outline, outlineUnit = "ft";
  std::vector<std::string> kinds;
  double outlineScale = 1.0;
  bool replace = false, metric = false;
};

base::LengthUnit unitOf(const std::string& word) {
  if (word == "in") return base::LengthUnit::Inches;
  if (word == "m") return base::LengthUnit::Metres;
  if (word == "cm") return base::LengthUnit::Centimetres;
  if (word == "mm") return base::LengthUnit::Millimetres;
  return base::LengthUnit::Feet;
}

std::string joined(const std::vector<std::string>& words) {
  std::string all;
  for (const std::string& word : words) all += (all.empty() ? "" : ", ") + word;
  return all;
}

/// `LAYER=KIND`: what a layer or an outline of that name is taken for.
base::Result<int> takeAs(file::Outlines& outlines, const std::string& typed) {
  const std::size_t at = typed.rfind('=');
  if (at == std::string::npos)
    return base::fail(base::ErrorCode::BadInput, {"outlines_pair", {{"typed", typed}}}, "--outline-kind");
  const std::string layer = typed.substr(0, at), word = typed.substr(at + 1);
  std::vector<std::string> words;
  std::optional<yard::FeatureKind> kind;
  for (const auto& one : yard::words(yard::FeatureKind{})) {
    if (word == one.name) kind = static_cast<yard::FeatureKind>(words.size());
    words.emplace_back(one.name);
  }
  if (!kind && word != "none")
    return base::fail(base::ErrorCode::BadInput,
                      {"outlines_no_kind", {{"kind", word}, {"kinds", joined(words)}}}, "--outline-kind");
  int found = 0;
  std::vector<std::string> layers;
  for (file::Outline& outline : outlines.outlines) {
    if (outline.layer == layer || outline.name == layer) {
      outline.kind = kind;
      ++found;
    }
    for (const std::string& name : {outline.layer, outline.name})
      if (!name.empty() && std::find(layers.begin(), layers.end(), name) == layers.end())
        layers.push_back(name);
  }
  if (found == 0)
    return base::fail(base::ErrorCode::BadInput,
                      {"outlines_no_layer", {{"layer", layer}, {"layers", joined(layers)}}},
                      "--outline-kind");
  return found;
}

/// How many of each kind were taken: `1 House, 2 Walk`.
std::string countsOf(const file::Outlines& outlines, std::int64_t& count) {
  std::map<yard::FeatureKind, int> kinds;
  for (const file::Outline& outline : outlines.outlines)
    if (outline.kind) ++kinds[*outline.kind];
  std::vector<std::string> parts;
  for (const auto& [kind, number] : kinds) {
    parts.push_back(std::to_string(number) + " " +
                    yard::words(yard::FeatureKind{})[static_cast<std::size_t>(kind)].label);
    count += number;
  }
  return joined(parts);
}

base::Result<yard::Yard> withOutlines(const yard::Yard& yard, const Options& options) {
  auto read = file::readOutlinesFile(options.outline, unitOf(options.outlineUnit));
  if (!read) return tl::unexpected(read.error());
  for (const std::string& typed : options.kinds)
    if (const auto taken = takeAs(*read, typed); !taken) return tl::unexpected(taken.error());
  const auto units = yard::settings(yard).units;
  for (const base::Message& note : read->notes) std::cerr << base::text(note, units) << '\n';
  if (!read->sized)
    std::cerr << base::text(base::Message{"outlines_not_sized", {{"unit", options.outlineUnit}}}) << '\n';
  std::int64_t count = 0;
  const std::string kinds = countsOf(*read, count);
  std::cerr << base::text(base::Message{"outlines_taken", {{"count", count}, {"kinds", kinds}}}) << '\n';
  return edit::apply(yard, file::takeOutlines(yard, file::scaled(*read, options.outlineScale)));
}
}  // namespace

std::function<int()> defineNew(CLI::App& app) {
  auto options = std::make_shared<Options>();
  app.add_option("-o,--to", options->to, "Where to write; - is the standard output");
  app.add_option("--name", options->name, "Name of the yard");
  app.add_flag("--metric", options->metric, "Meters and A4 instead of feet and Letter");
  app.add_flag("--replace", options->replace, "Write over a file that is there");
  auto* outline = app.add_option("--outline", options->outline,
                                 "House, walks and beds from a drawing: SVG, DXF or GeoJSON");
  app.add_option("--outline-unit", options->outlineUnit, "Unit of a drawing that does not say its own")
      ->check(CLI::IsMember({"ft", "in", "m", "cm", "mm"}))
      ->needs(outline);
  app.add_option("--outline-scale", options->outlineScale, "Times the drawing's size, 100 for 1:100")
      ->check(CLI::Range(1e-6, 1e6))
      ->needs(outline);
  app.add_option("--outline-kind", options->kinds,
                 "LAYER=KIND: what a layer is taken for, as garage=house; none leaves it out")
      ->needs(outline);
  return [options] {
    if (options->to != "-" && !options->replace && std::filesystem::exists(options->to))
      return complain({base::ErrorCode::CannotWrite, {"file_is_there", {{"path", options->to}}}, {}});
    edit::Editor editor(yard::emptyYard());
    editor.update<yard::Site>(yard::siteId(editor.yard()),
                              [&](yard::Site& site) { site.name = options->name; });
    editor.update<yard::Settings>(yard::settingsId(editor.yard()), [&](yard::Settings& settings) {
      if (!options->metric) return;
      settings.units = base::UnitSystem::Metric;
      settings.paper = yard::PaperSize::A4;
    });
    if (options->outline.empty()) return writeOut(options->to, file::bytesOf(editor.yard()));
    const auto yard = withOutlines(editor.yard(), *options);
    return yard ? writeOut(options->to, file::bytesOf(*yard)) : complain(yard.error());
  };
}

}  // namespace yw::command
