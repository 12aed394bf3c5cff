// A full repaint of the Yard at fit, at four times that, and one step of a drag, beside plain
// QPainter::drawPoints of as many points into a picture of the same size; where dots are large, beside the
// same dots copied from a ready-drawn picture. The slow frames too: 95 of 100 frames of panning, zooming and
// dragging are no slower.
#include <fmt/format.h>

#include <QApplication>
#include <QImage>
#include <QPainter>
#include <QScrollBar>
#include <QStandardPaths>
#include <QTemporaryDir>
#include <algorithm>
#include <chrono>
#include <ctime>
#include <limits>
#include <vector>

#include "ui/canvas/items/dot_atlas.h"
#include "ui/canvas/yard_view.h"

namespace {

using namespace yw;
using namespace yw::ui;

constexpr int kRuns = 25;
constexpr QSize kSize(1280, 800);

template <class F>
double bestSeconds(F&& run) {
  double best = std::numeric_limits<double>::infinity();
  for (int i = 0; i < kRuns; ++i) {
    const auto from = std::chrono::steady_clock::now();
    run();
    best = std::min(best, std::chrono::duration<double>(std::chrono::steady_clock::now() - from).count());
  }
  return best;
}

void row(const std::string& name, double ours, double peer) {
  fmt::print("{}\t{:.2f} ms\t{:.2f} ms\t{:.3f}\n", name, 1e3 * ours, 1e3 * peer, ours / peer);
}

/// Every pixel that is in view, in the viewport.
std::vector<QPointF> pixelsInView(const YardView& view) {
  std::vector<QPointF> points;
  const QRectF seen(view.viewport()->rect());
  for (const auto& [id, item] : view.canvas().records())
    if (const PropItem* prop = view.canvas().prop(id)) {
      const QTransform toScreen = prop->sceneTransform() * view.viewportTransform();
      for (const QPointF p : prop->drawing()->pixels)
        if (const QPointF at = toScreen.map(p); seen.contains(at)) points.push_back(at);
    }
  return points;
}

double pointsSeconds(const std::vector<QPointF>& points) {
  QImage picture(kSize, QImage::Format_ARGB32_Premultiplied);
  return bestSeconds([&] {
    picture.fill(Qt::white);
    QPainter painter(&picture);
    QPen pen(Qt::black, 1);
    pen.setCosmetic(true);
    painter.setPen(pen);
    painter.drawPoints(points.data(), static_cast<int>(points.size()));
  });
}

/// CPU time that 95 in 100 of the frames stay within; `step` makes the next frame due.
template <class Step>
double slowSeconds(YardView& view, Step&& step) {
  constexpr int kFrames = 100;
  QImage picture(kSize, QImage::Format_ARGB32_Premultiplied);
  std::vector<double> taken;
  for (int i = 0; i < kFrames; ++i) {
    step(i);
    const std::clock_t from = std::clock();
    view.viewport()->render(&picture);
    taken.push_back(static_cast<double>(std::clock() - from) / CLOCKS_PER_SEC);
  }
  std::sort(taken.begin(), taken.end());
  return taken[kFrames * 95 / 100];
}

/// The same dots, `diameter` logical pixels across, copied one by one from a ready-drawn picture.
double atlasSeconds(const std::vector<QPointF>& points, const Look& look, double diameter) {
  const DotAtlas& atlas = DotAtlas::of(look, diameter);
  std::vector<QPainter::PixmapFragment> fragments;
  for (const QPointF at : points) fragments.push_back(QPainter::PixmapFragment::create(at, atlas.source(0)));
  QImage picture(kSize, QImage::Format_ARGB32_Premultiplied);
  return bestSeconds([&] {
    picture.fill(Qt::white);
    QPainter painter(&picture);
    painter.drawPixmapFragments(fragments.data(), static_cast<int>(fragments.size()), atlas.dots);
  });
}

double repaintSeconds(YardView& view) {
  QImage picture(kSize, QImage::Format_ARGB32_Premultiplied);
  return bestSeconds([&] { view.viewport()->render(&picture); });
}

void compare(const std::string& name, YardView& view) {
  view.settle();
  const auto points = pixelsInView(view);
  row(fmt::format("{}, {} pixels in view", name, points.size()), repaintSeconds(view), pointsSeconds(points));
}

/// Panels edge to edge, seen as near as it takes until each pixel is a dot of its own: the most dots there
/// ever are in view.
void compareMostDots() {
  Document document;
  edit::Editor editor(document.yard());
  yard::Prop panel = shapes::usualProp("mesh_panel");
  const auto shape = shapes::make(panel);
  if (!shape) return;
  const double wide = base::metres(shape->width).si, high = base::metres(shape->height).si;
  constexpr int kAcross = 9, kRows = 6;
  for (int i = 0; i < kAcross * kRows; ++i) {
    panel.name = "Panel " + std::to_string(i + 1);
    panel.at = base::point(base::Vec2{wide * (i % kAcross), high * (i / kAcross)});
    editor.add(panel);
  }
  document.commit(editor.finish("panels"));
  document.settle();
  YardView view(document);
  view.resize(kSize);
  view.show();
  view.fitAll();
  view.settle();
  const auto pitchNow = [&] {
    return view.canvas().prop(yard::all<yard::Prop>(document.yard()).front().first)->drawing()->pitch *
           view.scaleNow();
  };
  constexpr std::size_t kMostDots = 20'000;  // beyond it the Yard shows points
  auto points = pixelsInView(view);
  while (points.size() > kMostDots || pitchNow() < 2.7) {
    view.zoomAt(1.02, QPointF(kSize.width() / 2.0, kSize.height() / 2.0));
    points = pixelsInView(view);
  }
  view.settle();
  const double diameter = std::round(std::clamp(pitchNow() * 0.62, 2.6, 9.0) * 4) / 4;
  row(fmt::format("repaint of the most dots, {} pixels in view, against the dots alone", points.size()),
      repaintSeconds(view), atlasSeconds(points, view.look(), diameter));
}

/// Forty copies of the biggest prop are more than any yard at hand: 100,000 pixels and
/// over.
void enlarge(Document& document) {
  edit::Editor editor(document.yard());
  yard::Prop panel = shapes::usualProp("mesh_panel");
  for (int i = 0; i < 40; ++i) {
    panel.name = "Wall of light " + std::to_string(i + 1);
    panel.at = base::point(base::Vec2{-40.0 + 4.0 * (i % 20), -60.0 + 5.0 * (i / 20)});
    editor.add(panel);
  }
  document.commit(editor.finish("enlarge"));
  document.settle();
}

}  // namespace

int main(int count, char** words) {
  if (qEnvironmentVariableIsEmpty("QT_QPA_PLATFORM")) qputenv("QT_QPA_PLATFORM", "offscreen");
  const QTemporaryDir home;
  qputenv("XDG_DATA_HOME", home.path().toUtf8());
  qputenv("XDG_CONFIG_HOME", home.path().toUtf8());
  qputenv("XDG_RUNTIME_DIR", home.path().toUtf8());
  QStandardPaths::setTestModeEnabled(true);
  const QApplication application(count, words);
  Document document;
  if (!document.open(QStringLiteral(YARDWRIGHT_ROOT "/sample-yards/large-grounds.yard"))) return 1;
  document.settle();
  YardView view(document);
  view.resize(kSize);
  view.show();
  compare("repaint at fit", view);
  view.zoomAt(4.0, QPointF(kSize.width() / 2.0, kSize.height() / 2.0));
  compare("repaint at 4 times fit", view);
  enlarge(document);
  view.fitAll();
  compare("repaint at fit, with forty panels more", view);

  const auto points = pixelsInView(view);
  const double floor = pointsSeconds(points);
  row("panned at fit, slow frames",
      slowSeconds(view,
                  [&](int i) {
                    view.horizontalScrollBar()->setValue(view.horizontalScrollBar()->value() +
                                                         (i % 2 ? 7 : -7));
                  }),
      floor);
  view.fitAll();
  row("zoomed about fit, slow frames",
      slowSeconds(view,
                  [&](int i) {
                    view.zoomAt(i % 2 ? 1.05 : 1 / 1.05, QPointF(kSize.width() / 2.0, kSize.height() / 2.0));
                  }),
      floor);
  view.fitAll();
  const base::Id dragged = yard::all<yard::Prop>(document.yard()).front().first;
  row("a prop dragged at fit, slow frames",
      slowSeconds(view,
                  [&](int i) {
                    edit::Editor editor(document.yard());
                    editor.update<yard::Prop>(dragged, [&](yard::Prop& prop) {
                      prop.at.x = prop.at.x + base::inches(i % 2 ? 6 : -6);
                    });
                    document.setTentative(editor.finish("drag"));
                  }),
      floor);
  document.clearTentative();
  view.fitAll();
  // Neighbours as far apart as the largest ready-drawn dots are; beyond, each pixel is drawn on its own.
  const PropItem* panel = view.canvas().prop(yard::all<yard::Prop>(document.yard()).back().first);
  view.zoomAt(11.5 / (panel->drawing()->pitch * view.scaleNow()),
              view.toView(panel->sceneBoundingRect().center()));
  view.settle();
  const auto large = pixelsInView(view);
  row(fmt::format("repaint of large dots, {} pixels in view, against the dots alone", large.size()),
      repaintSeconds(view), atlasSeconds(large, view.look(), 7.25));

  compareMostDots();

  // One step of a drag repaints two small places, not the window.
  view.fitAll();
  view.settle();
  const auto props = yard::all<yard::Prop>(document.yard());
  QImage picture(kSize, QImage::Format_ARGB32_Premultiplied);
  const PropItem* moved = view.canvas().prop(props.front().first);
  const QRect dirty =
      view.viewportTransform().mapRect(moved->extent()).toAlignedRect().adjusted(-20, -20, 20, 20);
  const double part =
      bestSeconds([&] { view.viewport()->render(&picture, dirty.topLeft(), QRegion(dirty)); });
  row("one prop's place against the whole repaint", part, repaintSeconds(view));
  return 0;
}
