#include <filesystem>
#include <iostream>
#include <nlohmann/json.hpp>

#include "app/command/command.h"
#include "app/command/shape_fit.h"
#include "app/command/shape_mine.h"
#include "app/command/shape_own.h"
#include "core/papers/gallery.h"
#include "core/shapes/sizes.h"

namespace yw::command {

namespace {

using Json = nlohmann::ordered_json;

/// ` (with Curve: Pipe by its length and feet)`; empty when it always counts.
std::string needsWords(const shapes::Needs& needs, const shapes::Kind& kind) {
  return needs.name.empty() ? std::string() : " (" + shapes::needsText(needs, kind) + ")";
}

std::string asJson() {
  Json all = {{"format", "yardwright-shapes"}, {"version", 1}, {"shapes", Json::array()}};
  for (const shapes::Kind& kind : shapes::kinds()) {
    Json sizes = Json::array();
    for (const shapes::SizeInfo& size : kind.sizes)
      sizes.push_back({{"name", size.name},
                       {"label", size.label},
                       {"usual", size.usual},
                       {"least", size.least},
                       {"most", size.most},
                       {"counts", shapes::needsText(size.needs, kind)}});
    Json choices = Json::array();
    for (const shapes::ChoiceInfo& choice : kind.choices) {
      Json options = Json::array();
      for (const yard::ChoiceWord& option : choice.options) options.push_back(option.name);
      choices.push_back({{"name", choice.name}, {"label", choice.label}, {"options", options}});
    }
    Json row = {{"name", kind.name},
                {"label", kind.label},
                {"along_path", kind.alongPath},
                {"sizes", sizes},
                {"choices", choices}};
    if (const auto shape = shapes::make(shapes::usualProp(kind.name))) {
      row["usual_pixels"] = shape->pixels.size();
      row["in"] = shape->in.landmark;
      row["out"] = shape->out.landmark;
    }
    all["shapes"].push_back(std::move(row));
  }
  return all.dump(2) + "\n";
}

std::string asText() {
  std::string out;
  for (const shapes::Kind& kind : shapes::kinds()) {
    out += kind.label + " (" + kind.name + ")\n  " + kind.help + "\n";
    for (const shapes::SizeInfo& size : kind.sizes)
      out += "  " + size.label + ": " + base::text(shapes::sizeFact(size, size.usual)) +
             needsWords(size.needs, kind) + "\n";
    const auto shape = shapes::make(shapes::usualProp(kind.name));
    if (shape)
      out += "  With these sizes " + std::to_string(shape->pixels.size()) + " pixels; in at " +
             shape->in.landmark + ", out at " + shape->out.landmark + "\n";
    out += "\n";
  }
  return out;
}

int writeGallery(const std::string& folder, const FitOptions& options) {
  std::error_code error;
  std::filesystem::create_directories(folder, error);
  if (error)
    return complain({base::ErrorCode::CannotWrite,
                     {"cannot_make_folder", {{"path", folder}, {"why", error.message()}}},
                     {}});
  const std::filesystem::path path = std::filesystem::path(folder) / "gallery.html";
  const int status = writeOut(path.string(), papers::gallery(options.metric ? base::UnitSystem::Metric
                                                                            : base::UnitSystem::FeetInches));
  if (status == kClean) std::cout << path.string() << '\n';
  return status;
}

}  // namespace

std::function<int()> defineShapes(CLI::App& app) {
  auto fit = std::make_shared<FitOptions>();
  auto to = std::make_shared<std::string>();
  app.add_flag("--json", fit->json, "For a program: format yardwright-shapes or yardwright-fit, version 1");
  app.add_flag("--metric", fit->metric, "Meters instead of feet and inches");
  app.add_option("--to", *to, "Folder for gallery.html: every kind drawn, with its figures");
  auto* kind = app.add_option("--kind", fit->kind, "The kind to find a size of");
  app.add_option("--size", fit->sizes, "name=value of its sizes and choices, as often as needed")
      ->needs(kind);
  auto* how = app.add_option_group("What it is to fit");
  how->add_option("--fit-pixels", fit->pixels, "I have so many pixels")
      ->check(CLI::Range(1, 10'000'000))
      ->needs(kind);
  how->add_option("--fit-width", fit->width, "So much room from side to side")->needs(kind);
  how->add_option("--fit-height", fit->height, "So much room from the ground up")->needs(kind);
  how->add_option("--fit-depth", fit->depth, "So much room from front to back")->needs(kind);
  how->add_option("--fit-strip", fit->strip, "My strips are so long")->needs(kind);
  auto* port = how->add_option("--fit-port", fit->port, "What this port of --yard still takes")->needs(kind);
  auto* strips = how->add_option("--own-strips", fit->strips, "I own so many strips")
                     ->check(CLI::Range(1, 10'000'000))
                     ->needs(kind);
  how->require_option(0, 1);
  auto* each = app.add_option("--strip-pixels", fit->stripPixels, "Pixels on each strip I own")
                   ->check(CLI::Range(1, 10'000'000));
  strips->needs(each);
  auto* yard = app.add_option("--yard", fit->yard, "The yard that has the port, or the prop to keep");
  port->needs(yard);
  app.add_option("--solve", fit->solve,
                 "The size to find, or whole_size; else the pitch, or the first that matters");
  auto own = std::make_shared<OwnOptions>();
  auto* from = app.add_option("--from", own->from, "An own shape from a .csv, .txt, .svg or .dxf file");
  app.add_option("--unit", own->unit, "Of numbers without one in that file: in, ft, mm, cm or m")
      ->check(CLI::IsMember({"in", "ft", "mm", "cm", "m"}))
      ->needs(from);
  app.add_option("--pitch", own->pitch, "How far apart its pixels are along lines")->needs(from);
  app.add_option("--name", own->name, "What it is called")->needs(from);
  app.add_flag("--short-order", own->shortOrder, "String it the shortest way its jumpers allow")->needs(from);
  auto* into = app.add_option("--into", own->into, "Add it to this yard file");
  auto mine = std::make_shared<MineOptions>();
  app.add_flag("--mine", mine->list, "List your own props");
  app.add_option("--keep", mine->keep, "Keep this prop of --yard as one of your own")->needs(yard);
  app.add_option("--put", mine->put, "Put this one of your own props into --into")->needs(into);
  return [fit, to, own, mine] {
    mine->yard = fit->yard;
    mine->into = own->into;
    if (mine->list || !mine->keep.empty() || !mine->put.empty()) return runMine(*mine);
    if (!own->from.empty()) return writeOwn(*own, fit->metric);
    if (!to->empty()) return writeGallery(*to, *fit);
    const bool fits = fit->pixels > 0 || fit->strips > 0 || !fit->width.empty() || !fit->height.empty() ||
                      !fit->depth.empty() || !fit->strip.empty() || !fit->port.empty();
    if (fits) return writeFit(*fit);
    return writeOut("-", fit->json ? asJson() : asText());
  };
}

}  // namespace yw::command
