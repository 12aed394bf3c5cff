#include "core/papers/digest.h"

#include <algorithm>
#include <cmath>
#include <tuple>

#include "core/base/number_text.h"
#include "core/edit/ideas.h"
#include "core/yard/this_year.h"

namespace yw::papers {
namespace {

bool isDigit(char c) { return c >= '0' && c <= '9'; }

/// Length of the digits at `at` and of the zeros that lead them.
std::pair<std::size_t, std::size_t> digitsAt(const std::string& text, std::size_t at) {
  std::size_t zeros = 0, n = 0;
  while (at + zeros < text.size() && text[at + zeros] == '0') ++zeros;
  while (at + zeros + n < text.size() && isDigit(text[at + zeros + n])) ++n;
  return {zeros, n};
}

/// Splits the section of power points [begin, end) at the middles of the wire between neighbours.
void shareSection(std::vector<PowerPoint>& points, std::size_t begin, std::size_t end, std::int64_t first,
                  std::int64_t last, const std::vector<double>& along) {
  const auto place = [&](std::int64_t pixel) { return along[static_cast<std::size_t>(pixel - 1)]; };
  std::int64_t from = first;
  for (std::size_t i = begin; i < end; ++i) {
    std::int64_t to = last;
    if (i + 1 < end) {
      const double middle = (place(points[i].pixel) + place(points[i + 1].pixel)) / 2.0;
      to = std::max(from, points[i].pixel);
      while (to + 1 < points[i + 1].pixel && place(to + 1) <= middle) ++to;
    }
    points[i].first = from;
    points[i].last = to;
    points[i].alone = end - begin == 1;
    from = to + 1;
  }
}

}  // namespace

bool naturalLess(const std::string& a, const std::string& b) {
  std::size_t i = 0, k = 0;
  while (i < a.size() && k < b.size()) {
    if (isDigit(a[i]) && isDigit(b[k])) {
      const auto [zerosA, lengthA] = digitsAt(a, i);
      const auto [zerosB, lengthB] = digitsAt(b, k);
      if (lengthA != lengthB) return lengthA < lengthB;
      const int order = a.compare(i + zerosA, lengthA, b, k + zerosB, lengthB);
      if (order != 0) return order < 0;
      i += zerosA + lengthA;
      k += zerosB + lengthB;
    } else {
      if (a[i] != b[k]) return static_cast<unsigned char>(a[i]) < static_cast<unsigned char>(b[k]);
      ++i;
      ++k;
    }
  }
  const bool endA = i >= a.size(), endB = k >= b.size();
  return endA != endB ? endA : a < b;
}

PlaceCells::PlaceCells(const Digest& d, Id onWall, base::Point at) {
  const std::string x = fixed(d.inUnit(at.x), 2), y = fixed(d.inUnit(at.y), 2);
  if (onWall) {
    wall = d.label(onWall);
    along = x;
    up = y;
  } else {
    east = x;
    north = y;
  }
}

Digest::Digest(const Assessment& assessment)
    : a(assessment), y(assessment.yard), set(yard::settings(assessment.yard)), units(set.units) {
  for (const auto& [id, box] : yard::all<yard::Box>(y)) boxes_.push_back(id);
  sortByLabel(boxes_);
  std::vector<Id> unplugged;
  for (const auto& [id, run] : yard::all<yard::Run>(y))
    (yard::find<yard::Port>(y, run->port) != nullptr ? runs_ : unplugged).push_back(id);
  sortByLabel(runs_);
  sortByLabel(unplugged);
  runs_.insert(runs_.end(), unplugged.begin(), unplugged.end());
  for (const auto& [id, cable] : yard::all<yard::Cable>(y))
    if (cable->from.kind == yard::TerminalKind::FusePosition &&
        cable->to.kind == yard::TerminalKind::PropPixel && !rests(cable->to.record))
      feeds_.push_back(id);
  sortByLabel(feeds_);
  for (const Id feed : feeds_)
    if (const Id run = runOfFeed(feed)) feedsOf_[run].push_back(feed);
}

const yard::Idea* Digest::idea() const { return yard::find<yard::Idea>(y, edit::shownIdea(y)); }

std::string Digest::yardName() const {
  const std::string& own = yard::site(y).name;
  const std::string name = own.empty() ? say("unnamed_yard") : own;
  return idea() == nullptr ? name : say("yard_with_idea", {{"yard", name}, {"idea", idea()->name}});
}

const std::string& Digest::label(Id id) const {
  const auto [entry, fresh] = labels_.try_emplace(id);
  if (fresh) entry->second = yard::labelOf(y, id);
  return entry->second;
}

void Digest::sortByLabel(std::vector<Id>& ids) const {
  std::stable_sort(ids.begin(), ids.end(), [&](Id l, Id r) { return naturalLess(label(l), label(r)); });
}

const std::vector<Id>& Digest::feedsOf(Id run) const {
  static const std::vector<Id> none;
  const auto* found = lookUp(feedsOf_, run);
  return found == nullptr ? none : *found;
}

std::string Digest::ifLost(Id gate) const {
  const auto* most = lookUp(a.faults().most, gate);
  if (most == nullptr || !most->lost) return "";
  return say("if_lost", {{"amps", base::toCurrent({most->amps})}, {"what", label(most->lost)}});
}

std::string Digest::runName(Id run) const {
  const auto* record = yard::find<yard::Run>(y, run);
  const std::string id = label(run);
  if (record == nullptr || record->name.empty() || record->name == id) return id;
  return id + " " + record->name;
}

std::string Digest::height(double metres) const { return base::lengthText(base::toLength({metres}), units); }

std::string Digest::cutText(base::Length length) const {
  return trimmed(inUnit(length), 2) + " " + lengthUnit();
}

std::string Digest::wireName(Id wire) const {
  const auto* record = yard::find<yard::Wire>(y, wire);
  return record == nullptr ? "—" : record->name;
}

std::vector<Id> Digest::portOwners(Id box) const {
  std::vector<Id> found;
  for (const auto& [id, controller] : yard::all<yard::Controller>(y))
    if (controller->box == box) found.push_back(id);
  for (const auto& [id, receiver] : yard::all<yard::Receiver>(y))
    if (receiver->box == box) found.push_back(id);
  return found;
}

std::vector<Id> Digest::suppliesIn(Id box) const {
  std::vector<Id> found;
  for (const auto& [id, supply] : yard::all<yard::Supply>(y))
    if (supply->box == box) found.push_back(id);
  return found;
}

const routes::RoutedCable* Digest::cable(routes::CableKey key) const { return lookUp(a.routes.cables, key); }

const circuit::RunLayout* Digest::layout(Id run) const {
  const auto* found = lookUp(a.layouts, run);
  return found == nullptr ? nullptr : found->get();
}

const circuit::RunFigure* Digest::figure(const circuit::Power& power, Id run) const {
  return lookUp(power.runs, run);
}

bool Digest::rests(Id prop) const {
  const auto* record = yard::find<yard::Prop>(y, prop);
  return record != nullptr && yard::rests(*record);
}

const data::RunData* Digest::dataOf(Id run) const { return lookUp(a.data.runs, run); }

const yard::Product* Digest::product(Id prop) const {
  const auto* record = yard::find<yard::Prop>(y, prop);
  return record == nullptr ? nullptr : yard::productOf(y, *record);
}

std::vector<Piece> Digest::pieces(Id run) const {
  std::vector<Piece> out;
  const auto* record = yard::find<yard::Run>(y, run);
  const circuit::RunLayout* places = layout(run);
  if (record == nullptr) return out;
  for (std::size_t i = 0; i < record->items.size(); ++i) {
    const yard::RunItem& item = record->items[i];
    Piece piece;
    piece.item = static_cast<std::int64_t>(i);
    piece.kind = item.kind;
    piece.prop = item.prop;
    piece.count = item.count;
    piece.lead = cable({routes::CableRole::Lead, run, piece.item});
    if (piece.lead == nullptr) piece.lead = cable({routes::CableRole::Jumper, run, piece.item});
    out.push_back(piece);
  }
  if (places == nullptr) return out;
  for (std::size_t k = 0; k < places->pixels.size(); ++k) {
    const circuit::RunPixel& pixel = places->pixels[k];
    if (pixel.item < 0 || static_cast<std::size_t>(pixel.item) >= out.size()) continue;
    Piece& piece = out[static_cast<std::size_t>(pixel.item)];
    if (piece.first == 0) {
      piece.first = static_cast<std::int64_t>(k) + 1;
      piece.entered = pixel.pixel;
    }
    piece.last = static_cast<std::int64_t>(k) + 1;
    piece.left = pixel.pixel;
  }
  for (Piece& piece : out)
    if (piece.kind == yard::RunItemKind::Stretch && piece.first != 0) {
      piece.enters = landmark(piece.prop, piece.entered);
      piece.leaves = landmark(piece.prop, piece.left);
    }
  std::erase_if(out, [this](const Piece& piece) {
    return piece.kind == yard::RunItemKind::Stretch && rests(piece.prop);
  });
  return out;
}

std::vector<PowerPoint> Digest::powerPoints(Id run) const {
  std::vector<PowerPoint> points;
  const auto* record = yard::find<yard::Run>(y, run);
  const circuit::RunLayout* places = layout(run);
  if (record == nullptr || places == nullptr || places->pixels.empty()) return points;
  if (record->portPower && record->port) points.push_back({});
  for (const Id id : feedsOf(run))
    if (const auto* feed = lookUp(a.limit.feeds, id); feed->runPixel >= 1) {
      const auto* wire = yard::find<yard::Cable>(y, id);
      points.push_back({id, feed->runPixel, wire != nullptr && wire->cutPositive, 1, 0, true});
    }
  std::stable_sort(points.begin(), points.end(), [](const PowerPoint& l, const PowerPoint& r) {
    return std::tie(l.pixel, l.feed) < std::tie(r.pixel, r.feed);
  });
  const auto count = static_cast<std::int64_t>(places->pixels.size());
  std::int64_t first = 1;
  for (std::size_t begin = 0; begin < points.size();) {
    std::size_t end = begin + 1;
    while (end < points.size() && !points[end].cut) ++end;
    const std::int64_t last = end < points.size() ? points[end].pixel - 1 : count;
    shareSection(points, begin, end, first, last, places->along);
    first = last + 1;
    begin = end;
  }
  return points;
}

Id Digest::runOfFeed(Id feed) const {
  const auto* figure = lookUp(a.limit.feeds, feed);
  return figure == nullptr ? Id{} : figure->run;
}

PowerPoint Digest::powerPoint(Id feed) const {
  for (const PowerPoint& point : powerPoints(runOfFeed(feed)))
    if (point.feed == feed) return point;
  return {};
}

std::string Digest::pixelName(Id run, std::int64_t place) const {
  const circuit::RunLayout* places = layout(run);
  if (places == nullptr || place < 1 || place > static_cast<std::int64_t>(places->pixels.size())) return "—";
  const circuit::RunPixel& pixel = places->pixels[static_cast<std::size_t>(place - 1)];
  if (!pixel.prop) return say("null_pixel");
  return say("pixel_of_prop", {{"prop", label(pixel.prop)}, {"pixel", pixel.pixel}});
}

std::string Digest::landmark(Id prop, std::int64_t pixel) const {
  const auto it = a.shapes.find(prop);
  if (it == a.shapes.end()) return {};
  const shapes::Shape& shape = *it->second;
  if (pixel == 1) return shape.in.landmark;
  if (pixel == static_cast<std::int64_t>(shape.pixels.size())) return shape.out.landmark;
  for (const shapes::Joint& joint : shape.joints)
    if (joint.afterPixel == pixel || joint.afterPixel + 1 == pixel) return joint.landmark;
  for (const shapes::Row& row : shape.rows)
    if (row.first <= pixel && pixel <= row.last) return row.name;
  return {};
}

double Digest::pixelHeight(Id prop, std::int64_t pixel) const {
  const auto it = a.shapes.find(prop);
  const auto* record = yard::find<yard::Prop>(y, prop);
  if (it == a.shapes.end() || record == nullptr || pixel < 1 ||
      pixel > static_cast<std::int64_t>(it->second->pixels.size()))
    return 0.0;
  return shapes::placementOf(y, *record).toYard(it->second->pixels[static_cast<std::size_t>(pixel - 1)]).z;
}

std::set<std::string> Digest::assumedProducts(Id run) const {
  std::set<std::string> names;
  for (const Piece& piece : pieces(run)) {
    const yard::Product* used = product(piece.prop);
    const yard::Prop* prop = yard::find<yard::Prop>(y, piece.prop);
    if (used != nullptr && assess::originOf(a, yard::productIdOf(y, *prop)) == yard::Origin::Assumed)
      names.insert(used->name);
  }
  return names;
}

bool Digest::assumedRun(Id run) const { return !assumedProducts(run).empty(); }

bool Digest::assumedSupply(Id supply) const {
  const auto* record = yard::find<yard::Supply>(y, supply);
  return record != nullptr && record->origin == yard::Origin::Assumed;
}

}  // namespace yw::papers
