#include <filesystem>

#include "app/command/command.h"
#include "core/edit/change.h"
#include "core/file/yard_file.h"

namespace yw::command {

namespace {
struct Options {
  std::string to = "-", name;
  bool replace = false, metric = false;
};
}  // namespace

std::function<int()> defineNew(CLI::App& app) {
  auto options = std::make_shared<Options>();
  app.add_option("-o,--to", options->to, "Where to write; - is the standard output");
  app.add_option("--name", options->name, "Name of the yard");
  app.add_flag("--metric", options->metric, "Meters and A4 instead of feet and Letter");
  app.add_flag("--replace", options->replace, "Write over a file that is there");
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
    return writeOut(options->to, file::bytesOf(editor.yard()));
  };
}

}  // namespace yw::command
