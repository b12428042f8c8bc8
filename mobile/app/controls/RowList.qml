import QtQuick

// A list of rows of a view model.
ListView {
    clip: true
    boundsBehavior: Flickable.StopAtBounds
    // Rows beyond the edge would be made bit by bit; a model that is set anew while one is on its
    // way leaves it behind. Rows are cheap: they are made when they are seen.
    cacheBuffer: 0
}
