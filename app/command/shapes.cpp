#include <iostream>
#include <nlohmann/json.hpp>

#include "app/command/command.h"
#include "core/shapes/shape.h"

namespace yw::command {

namespace {

using Json = nlohmann::ordered_json;

base::Fact sizeFact(const shapes::SizeInfo& size) {
  switch (size.type) {
    case shapes::SizeType::Length:
      return base::Length{size.usual};
    case shapes::SizeType::Angle:
      return base::Angle{size.usual};
    case shapes::SizeType::Ratio:
      return base::Ratio{size.usual};
    case shapes::SizeType::Count:
      return size.usual;
  }
  return size.usual;
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
                       {"most", size.most}});
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
      out += "  " + size.label + ": " + base::text(sizeFact(size)) + "\n";
    const auto shape = shapes::make(shapes::usualProp(kind.name));
    if (shape)
      out += "  With these sizes " + std::to_string(shape->pixels.size()) + " pixels; in at " +
             shape->in.landmark + ", out at " + shape->out.landmark + "\n";
    out += "\n";
  }
  return out;
}

}  // namespace

std::function<int()> defineShapes(CLI::App& app) {
  auto json = std::make_shared<bool>(false);
  app.add_flag("--json", *json, "For a program: format yardwright-shapes, version 1");
  return [json] { return writeOut("-", *json ? asJson() : asText()); };
}

}  // namespace yw::command
