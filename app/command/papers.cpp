#include <QGuiApplication>
#include <filesystem>
#include <iostream>

#include "app/command/command.h"
#include "core/file/yard_file.h"
#include "core/papers/papers.h"
#include "core/yard/labels.h"
#include "ui/paint/painter.h"

namespace yw::command {

namespace {

struct Options {
  std::string file, to, paper;
  std::vector<std::string> sheets, formats, props;
  bool build = false;
};

/// Printing needs Qt Gui for fonts and PDF, but no display.
class Printing {
 public:
  Printing() {
    qputenv("QT_QPA_PLATFORM", "offscreen");
    static int argc = 1;
    static char name[] = "yardwright";
    static char* argv[] = {name, nullptr};
    app_ = std::make_unique<QGuiApplication>(argc, argv);
    std::setlocale(LC_NUMERIC, "C");
  }

 private:
  std::unique_ptr<QGuiApplication> app_;
};

bool wanted(const std::vector<std::string>& list, const std::string& name) {
  return list.empty() || std::find(list.begin(), list.end(), name) != list.end();
}

int writePdfs(const Checked& checked, const Options& options, const std::filesystem::path& folder) {
  const Printing printing;
  const yard::Yard& yard = checked.assessment->yard;
  const ui::BlobSource blobs = [&](const std::string& key) {
    const auto blob = yard.blobs.find(key);
    return blob == yard.blobs.end() ? std::string() : *blob->second;
  };
  std::vector<papers::SheetRequest> all;
  for (const papers::SheetRequest& request : papers::sheetsOf(*checked.assessment)) {
    const std::string kind = yard::words(request.kind)[static_cast<std::size_t>(request.kind)].name;
    if (wanted(options.sheets, kind)) all.push_back(request);
  }
  if (options.build || (!options.sheets.empty() && wanted(options.sheets, "build")))
    for (const papers::SheetRequest& request : papers::buildSheetsOf(*checked.assessment))
      if (wanted(options.props, yard::labelOf(yard, request.subject))) all.push_back(request);
  if (all.empty()) return complain({base::ErrorCode::BadInput, {"no_such_sheet", {}}, "--sheet"});
  const papers::Document document = papers::document(*checked.assessment, checked.report, all);
  const std::filesystem::path path = folder / "sheets.pdf";
  const auto written = ui::writePdf(document, QString::fromStdString(path.string()), blobs);
  if (!written) return complain(written.error());
  std::cout << path.string() << "\t" << document.pages.size() << " pages\n";
  return kClean;
}

int writeTables(const Checked& checked, const Options& options, const std::filesystem::path& folder) {
  const std::vector<papers::Table> tables = papers::tables(*checked.assessment, checked.report);
  const auto write = [&](const std::string& name, const std::string& bytes) {
    const int status = writeOut((folder / name).string(), bytes);
    if (status == kClean) std::cout << (folder / name).string() << '\n';
    return status;
  };
  int status = kClean;
  if (wanted(options.formats, "csv"))
    for (const papers::Table& table : tables)
      if (status == kClean) status = write(table.name + ".csv", papers::csv(table));
  if (status == kClean && wanted(options.formats, "json"))
    status = write("tables.json", papers::json(tables));
  if (status == kClean && wanted(options.formats, "html"))
    status = write("tables.html", papers::html(tables, yard::site(checked.assessment->yard).name));
  return status;
}

int writePapers(const Options& options) {
  base::Result<yard::Yard> yard = readYard(options.file);
  if (!yard) return complain(yard.error());
  if (!options.paper.empty()) {
    edit::Editor editor(*yard);
    editor.update<yard::Settings>(yard::settingsId(*yard), [&](yard::Settings& s) {
      s.paper = options.paper == "a4" ? yard::PaperSize::A4 : yard::PaperSize::Letter;
    });
    yard = editor.yard();
  }
  const std::filesystem::path folder(options.to);
  std::error_code error;
  std::filesystem::create_directories(folder, error);
  if (error)
    return complain({base::ErrorCode::CannotWrite,
                     {"cannot_make_folder", {{"path", options.to}, {"why", error.message()}}},
                     {}});
  const Checked checked = check(*yard);
  int status = kClean;
  if (wanted(options.formats, "pdf")) status = writePdfs(checked, options, folder);
  return status == kClean ? writeTables(checked, options, folder) : status;
}

}  // namespace

std::function<int()> definePapers(CLI::App& app) {
  auto options = std::make_shared<Options>();
  app.add_option("FILE", options->file, "The yard; - reads the standard input")->required();
  app.add_option("--to", options->to, "Folder for the files; made if missing")->required();
  std::vector<std::string> kinds;
  for (const yard::ChoiceWord& word : yard::words(yard::SheetKind{})) kinds.emplace_back(word.name);
  app.add_option("--sheet", options->sheets, "Only these sheets")->check(CLI::IsMember(kinds));
  app.add_flag("--build", options->build, "Also a build sheet for each prop, for the bench");
  app.add_option("--prop", options->props, "Build sheets of only these props, by their names");
  app.add_option("--format", options->formats, "Only these: pdf, csv, json, html")
      ->check(CLI::IsMember({"pdf", "csv", "json", "html"}));
  app.add_option("--paper", options->paper, "letter or a4, instead of the yard's own")
      ->check(CLI::IsMember({"letter", "a4"}));
  return [options] { return writePapers(*options); };
}

}  // namespace yw::command
