#pragma once
#include <QWidget>

#include "ui/document/document.h"

class QLabel;
class QPushButton;
class QSlider;

namespace yw::ui {

/// The picture under the Yard, or under the wall that the House front shows: chosen, scaled by two clicks,
/// checked by a third distance, faded, taken away. It is stored in the yard and never moves by a slip.
class PhotoPanel : public QWidget {
  Q_OBJECT
 public:
  explicit PhotoPanel(Document& document, QWidget* parent = nullptr);
  /// Whose picture: a wall's; none: the yard's.
  void setWall(base::Id wall);
  base::Id wall() const { return wall_; }

 Q_SIGNALS:
  void pictureAsked(yw::base::Id wall);
  void scaleAsked(yw::base::Id wall, bool check);
  void moveAsked(yw::base::Id wall);

 private:
  void refresh();
  void setFade(int percent);
  void removePicture();
  QString facts() const;
  std::string key() const;
  Document& document_;
  base::Id wall_;
  QLabel *whose_, *facts_, *fadeText_;
  QPushButton *choose_, *scale_, *check_, *move_, *remove_;
  QSlider* fade_;
};

}  // namespace yw::ui
