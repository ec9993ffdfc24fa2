using LiveStems.View.Controls;

namespace LiveStems.View.Window;

/// <summary>What happens to a window. Positions are in framebuffer pixels from the upper left.</summary>
internal interface IWindowEvents
{
    void PointerMoved(float x, float y);

    void PointerLeft();

    void ButtonPressed(PointerButton button, Modifiers modifiers);

    void ButtonReleased(PointerButton button, Modifiers modifiers);

    void WheelTurned(float right, float up);

    void KeyPressed(Key key, Modifiers modifiers, bool isRepeat);

    void KeyReleased(Key key, Modifiers modifiers);

    void TextTyped(string text);

    void FilesDropped(IReadOnlyList<string> paths);

    void FocusLost();

    /// <summary>The picture must be made anew, at the present size.</summary>
    void PictureLost();
}
