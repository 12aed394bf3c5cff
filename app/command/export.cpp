#include <fmt/format.h>

#include "app/command/command.h"
#include "core/circuit/power.h"
#include "core/papers/papers.h"
#include "core/yard/labels.h"

namespace yw::command {

namespace {

struct Options {
  std::string file, to = "-", what = "tables";
};

/// Every pixel with its place in the yard and its volts at the brightness limit and at full white.
std::string pixelsCsv(const assess::Assessment& a) {
  std::string out = "prop,pixel,x_m,y_m,z_m,run,place_in_run,volts_at_limit,volts_at_full_white\r\n";
  for (const auto& [runId, layout] : a.layouts) {
    const auto limit = a.limit.runs.find(runId);
    const auto full = a.fullWhite.runs.find(runId);
    for (std::size_t i = 0; i < layout->pixels.size(); ++i) {
      const circuit::RunPixel& pixel = layout->pixels[i];
      const yard::Prop* prop = yard::find<yard::Prop>(a.yard, pixel.prop);
      const auto shape = a.shapes.find(pixel.prop);
      if (!prop || shape == a.shapes.end()) continue;
      const base::Vec3 at = shapes::placementOf(a.yard, *prop)
                                .toYard(shape->second->pixels[static_cast<std::size_t>(pixel.pixel - 1)]);
      out += fmt::format("\"{}\",{},{:.4f},{:.4f},{:.4f},{},{},{:.4f},{:.4f}\r\n", prop->name, pixel.pixel,
                         at.x, at.y, at.z, yard::labelOf(a.yard, runId), i + 1, limit->second.volts[i],
                         full->second.volts[i]);
    }
  }
  return out;
}

std::string exported(const Options& options, const Checked& checked) {
  const assess::Assessment& a = *checked.assessment;
  if (options.what == "pixels") return pixelsCsv(a);
  if (options.what == "circuit")
    return circuit::spiceDeck(
        circuit::build(a.yard, a.shapes, a.routes, a.layouts, circuit::Condition::BrightnessLimit).network);
  const std::vector<papers::Table> tables = papers::tables(a, checked.report);
  if (options.what == "page") return papers::html(tables, yard::site(a.yard).name);
  return papers::json(tables);
}

}  // namespace

std::function<int()> defineExport(CLI::App& app) {
  auto options = std::make_shared<Options>();
  app.add_option("FILE", options->file, "The yard; - reads the standard input")->required();
  app.add_option(
         "--what", options->what,
         "tables (JSON), page (the tables as HTML), pixels (CSV of every pixel with its place and volts), "
         "circuit (a SPICE deck of the whole yard at the brightness limit)")
      ->check(CLI::IsMember({"tables", "page", "pixels", "circuit"}));
  app.add_option("-o,--to", options->to, "Where to write; - is the standard output");
  return [options] {
    const base::Result<yard::Yard> yard = readYard(options->file);
    if (!yard) return complain(yard.error());
    return writeOut(options->to, exported(*options, check(*yard)));
  };
}

}  // namespace yw::command
