#include "app/command/take_list.h"

#include <algorithm>
#include <fstream>
#include <iostream>
#include <iterator>

#include "app/command/command.h"
#include "core/file/yard_file.h"
#include "core/propose/last_year.h"

namespace yw::command {
namespace {

base::Result<std::string> bytesOf(const std::string& path) {
  if (path == "-") return std::string(std::istreambuf_iterator<char>(std::cin), {});
  std::ifstream in(path, std::ios::binary);
  std::string bytes(std::istreambuf_iterator<char>(in), {});
  if (!in.good() && !in.eof())
    return base::fail(base::ErrorCode::Unreadable, {"import_cannot_read", {{"path", path}}});
  if (!std::ifstream(path))
    return base::fail(base::ErrorCode::Unreadable, {"import_cannot_read", {{"path", path}}});
  return bytes;
}

base::LengthUnit unitOf(const std::string& word) {
  if (word == "in") return base::LengthUnit::Inches;
  if (word == "m") return base::LengthUnit::Metres;
  if (word == "cm") return base::LengthUnit::Centimetres;
  return base::LengthUnit::Feet;
}

base::Result<std::vector<propose::ListColumn>> columnsOf(const ListOptions& options,
                                                         const propose::List& list) {
  if (options.columns.empty()) return propose::proposedColumns(list);
  const auto& words = propose::listColumnWords();
  std::vector<propose::ListColumn> columns;
  for (const std::string& typed : options.columns) {
    const auto it = std::find(words.begin(), words.end(), typed);
    if (it == words.end() && typed != "none")
      return base::fail(base::ErrorCode::BadInput, {"list_no_such_column", {{"typed", typed}}}, "--columns");
    columns.push_back(it == words.end() ? propose::ListColumn::Ignored
                                        : static_cast<propose::ListColumn>(it - words.begin()));
  }
  columns.resize(list.headings.size(), propose::ListColumn::Ignored);
  return columns;
}

}  // namespace

int takeLastYear(const ListOptions& options) {
  const auto yard = readYard(options.yard);
  if (!yard) return complain(yard.error());
  const auto bytes = bytesOf(options.from);
  if (!bytes) return complain(bytes.error());
  const auto list = propose::readList(*bytes);
  if (!list) return complain(list.error());
  const auto columns = columnsOf(options, *list);
  if (!columns) return complain(columns.error());
  const auto taken = propose::takeList(*yard, *list, *columns, unitOf(options.unit));
  if (!taken) return complain(taken.error());
  const auto units = yard::settings(*yard).units;
  std::string out = base::text(base::Message{"list_summary",
                                             {{"props", taken->props},
                                              {"runs", taken->runs},
                                              {"leads", taken->leads},
                                              {"refused", static_cast<std::int64_t>(taken->refused.size())}}},
                               units) +
                    "\n";
  for (const base::Message& note : taken->notes) out += base::text(note, units) + "\n";
  for (const propose::ListRefusal& row : taken->refused)
    out += base::text(base::Message{"list_row", {{"line", row.line}, {"why", base::text(row.why, units)}}}) +
           "\n";
  if (!options.to.empty())
    if (const int written = writeOut(options.to, file::bytesOf(edit::apply(*yard, taken->change)));
        written != kClean)
      return written;
  const int said = options.to == "-" ? (std::cerr << out, static_cast<int>(kClean)) : writeOut("-", out);
  return said != kClean ? said : taken->refused.empty() ? kClean : kFailing;
}

}  // namespace yw::command
