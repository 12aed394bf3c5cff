#pragma once
#include <QWidget>
#include <functional>

#include "ui/document/document.h"

class QToolButton;
class QVBoxLayout;

namespace yw::ui {

class PlaceList;

/// Place: a narrow strip at the left edge. Each button opens into what can be placed: props as drawings of
/// the real shapes with their usual sizes, things of the ground, gear; below them wiring and measuring.
class PlaceStrip : public QWidget {
  Q_OBJECT
 public:
  explicit PlaceStrip(QWidget* parent = nullptr);
  /// Says whether sizes are told in metres; asked each time the drawings open. Feet without it.
  void setMetric(std::function<bool()> metric) { metric_ = std::move(metric); }
  PlaceList& list() { return *list_; }

 Q_SIGNALS:
  void propAsked(const QString& kind);
  void groundAsked(yw::yard::FeatureKind kind);
  void gearAsked(yw::yard::RecordKind kind);
  void runAsked();
  void feedAsked();
  void measureAsked();
  void northAsked();
  void pictureAsked();
  void outlinesAsked();

 private:
  QToolButton* addButton(const QString& text, const char* name, const QString& tip);
  QVBoxLayout* column_;
  PlaceList* list_;
  std::function<bool()> metric_;
};

}  // namespace yw::ui
