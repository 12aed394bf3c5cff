#pragma once
#include <QWidget>

#include "ui/document/document.h"

class QMenu;
class QToolButton;
class QVBoxLayout;

namespace yw::ui {

/// Place: a narrow strip at the left edge. Each button opens into what can be placed: props as drawings of
/// the real shapes with their usual sizes, things of the ground, gear; below them wiring and measuring.
class PlaceStrip : public QWidget {
  Q_OBJECT
 public:
  explicit PlaceStrip(QWidget* parent = nullptr);

 Q_SIGNALS:
  void propAsked(const QString& kind);
  void groundAsked(yw::yard::FeatureKind kind);
  void gearAsked(yw::yard::RecordKind kind);
  void runAsked();
  void feedAsked();
  void measureAsked();
  void pictureAsked();

 private:
  QToolButton* addButton(const QString& text, const char* name, const QString& tip);
  void fillProps(QMenu& menu);
  QVBoxLayout* column_;
};

/// Drawing of a kind with its usual sizes, seen from the front.
QPixmap shapePicture(const std::string& kind, int size, double ratio);

}  // namespace yw::ui
