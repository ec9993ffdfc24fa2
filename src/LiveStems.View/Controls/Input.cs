namespace LiveStems.View.Controls;

/// <summary>Keys that are held beside another.</summary>
[Flags]
internal enum Modifiers
{
    None = 0,
    Shift = 1,
    Control = 2,
    Alt = 4,
    System = 8,
    All = Shift | Control | Alt | System,
}

/// <summary>Buttons of the pointer.</summary>
internal enum PointerButton
{
    Left,
    Right,
    Middle,
}

/// <summary>Looks of the pointer, with GLFW's numbers.</summary>
internal enum PointerShape
{
    Arrow = 0x00036001,
    Text = 0x00036002,
    Cross = 0x00036003,
    Hand = 0x00036004,
    LeftRight = 0x00036005,
    UpDown = 0x00036006,
}

/// <summary>Keys by their place on a US keyboard, with GLFW's numbers.</summary>
internal enum Key
{
    Unknown = -1,
    Space = 32,
    Apostrophe = 39,
    Comma = 44,
    Minus = 45,
    Period = 46,
    Slash = 47,
    D0 = 48,
    D1 = 49,
    D2 = 50,
    D3 = 51,
    D4 = 52,
    D5 = 53,
    D6 = 54,
    D7 = 55,
    D8 = 56,
    D9 = 57,
    Semicolon = 59,
    Equal = 61,
    A = 65,
    B = 66,
    C = 67,
    D = 68,
    E = 69,
    F = 70,
    G = 71,
    H = 72,
    I = 73,
    J = 74,
    K = 75,
    L = 76,
    M = 77,
    N = 78,
    O = 79,
    P = 80,
    Q = 81,
    R = 82,
    S = 83,
    T = 84,
    U = 85,
    V = 86,
    W = 87,
    X = 88,
    Y = 89,
    Z = 90,
    LeftBracket = 91,
    Backslash = 92,
    RightBracket = 93,
    Grave = 96,
    Escape = 256,
    Enter = 257,
    Tab = 258,
    Backspace = 259,
    Insert = 260,
    Delete = 261,
    Right = 262,
    Left = 263,
    Down = 264,
    Up = 265,
    PageUp = 266,
    PageDown = 267,
    Home = 268,
    End = 269,
    F1 = 290,
    F2 = 291,
    F3 = 292,
    F4 = 293,
    F5 = 294,
    F6 = 295,
    F7 = 296,
    F8 = 297,
    F9 = 298,
    F10 = 299,
    F11 = 300,
    F12 = 301,
    PadEnter = 335,
}

/// <summary>A press, a movement or a release of the pointer over a control, in logical units from the upper left.</summary>
/// <param name="X">Right of the left edge of the window.</param>
/// <param name="Y">Below the upper edge of the window.</param>
/// <param name="Button">The button, of presses and releases.</param>
/// <param name="Modifiers">Keys held.</param>
/// <param name="Clicks">1, or 2 for the second press of a double click.</param>
internal readonly record struct PointerEvent(float X, float Y, PointerButton Button, Modifiers Modifiers, int Clicks);
