#pragma once
#include <QListWidget>

#include "core/yard/records.h"

namespace yw::ui {

/// My props, then all kinds of prop, as drawings of their real shapes, with the usual size and pixels
/// beneath. A click or Enter takes one to be placed; dragging one onto the Yard or a wall drops it there; Esc
/// closes the list.
class PlaceList : public QListWidget {
  Q_OBJECT
 public:
  explicit PlaceList(QWidget* parent = nullptr);
  /// Draws the shapes in the present look; lengths in `units`. Kinds by their file word in Qt::UserRole.
  void fill(bool metric);
  /// Opens beside `anchor`, inside the screen.
  void openBeside(const QWidget& anchor);

 Q_SIGNALS:
  void picked(const QString& kind);

 protected:
  void startDrag(Qt::DropActions actions) override;
  QMimeData* mimeData(const QList<QListWidgetItem*>& items) const override;
  QStringList mimeTypes() const override;
  void keyPressEvent(QKeyEvent* event) override;
  void mousePressEvent(QMouseEvent* event) override;

 private:
  void addTile(const yard::Prop& prop, const QString& name, const QString& data, const QString& tip,
               bool metric);
  void take(QListWidgetItem* item);
};

/// Drawing of a kind with its usual sizes, seen from the front.
QPixmap shapePicture(const std::string& kind, int size, double ratio);
/// The same of a prop with its own sizes.
QPixmap shapePicture(const yard::Prop& prop, int size, double ratio);

}  // namespace yw::ui
