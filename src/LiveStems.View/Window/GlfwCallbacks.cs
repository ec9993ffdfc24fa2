using System.Runtime.CompilerServices;
using System.Runtime.InteropServices;
using LiveStems.View.Controls;

namespace LiveStems.View.Window;

/// <summary>
/// Where GLFW calls us. No exception may pass through its frames, so what goes wrong is kept until events have been taken.
/// </summary>
internal static unsafe class GlfwCallbacks
{
    private static Exception? failure;

    /// <summary>Who hears of it; null outside of taking events.</summary>
    public static IWindowEvents? Receiver { get; set; }

    /// <summary>Pixels in a screen unit; above 1 on macOS.</summary>
    public static float PixelsPerUnit { get; set; } = 1;

    public static void Attach(nint window)
    {
        Glfw.SetKeyCallback(window, &OnKey);
        Glfw.SetCharCallback(window, &OnChar);
        Glfw.SetMouseButtonCallback(window, &OnButton);
        Glfw.SetCursorPosCallback(window, &OnMove);
        Glfw.SetCursorEnterCallback(window, &OnEnter);
        Glfw.SetScrollCallback(window, &OnScroll);
        Glfw.SetDropCallback(window, &OnDrop);
        Glfw.SetFramebufferSizeCallback(window, &OnSize);
        Glfw.SetWindowRefreshCallback(window, &OnRefresh);
        Glfw.SetWindowFocusCallback(window, &OnFocus);
    }

    public static Exception? TakeFailure() => Interlocked.Exchange(ref failure, null);

    private static void Tell(Action<IWindowEvents> what)
    {
        try
        {
            if (Receiver is { } receiver)
            {
                what(receiver);
            }
        }
        catch (Exception exception) when (exception is not OutOfMemoryException)
        {
            failure ??= exception;
        }
    }

    [UnmanagedCallersOnly(CallConvs = [typeof(CallConvCdecl)])]
    private static void OnKey(nint window, int key, int scanCode, int action, int modifiers) => Tell(receiver =>
    {
        Modifiers held = (Modifiers)modifiers & Modifiers.All;
        if (action is Glfw.Press or Glfw.Repeat)
        {
            receiver.KeyPressed((Key)key, held, action == Glfw.Repeat);
        }
        else
        {
            receiver.KeyReleased((Key)key, held);
        }
    });

    [UnmanagedCallersOnly(CallConvs = [typeof(CallConvCdecl)])]
    private static void OnChar(nint window, uint codePoint) => Tell(receiver => receiver.TextTyped(char.ConvertFromUtf32((int)codePoint)));

    [UnmanagedCallersOnly(CallConvs = [typeof(CallConvCdecl)])]
    private static void OnButton(nint window, int button, int action, int modifiers) => Tell(receiver =>
    {
        Modifiers held = (Modifiers)modifiers & Modifiers.All;
        if (action == Glfw.Press)
        {
            receiver.ButtonPressed((PointerButton)button, held);
        }
        else
        {
            receiver.ButtonReleased((PointerButton)button, held);
        }
    });

    [UnmanagedCallersOnly(CallConvs = [typeof(CallConvCdecl)])]
    private static void OnMove(nint window, double x, double y) =>
        Tell(receiver => receiver.PointerMoved((float)x * PixelsPerUnit, (float)y * PixelsPerUnit));

    [UnmanagedCallersOnly(CallConvs = [typeof(CallConvCdecl)])]
    private static void OnEnter(nint window, int isInside) => Tell(receiver =>
    {
        if (isInside == 0)
        {
            receiver.PointerLeft();
        }
    });

    [UnmanagedCallersOnly(CallConvs = [typeof(CallConvCdecl)])]
    private static void OnScroll(nint window, double right, double up) => Tell(receiver => receiver.WheelTurned((float)right, (float)up));

    [UnmanagedCallersOnly(CallConvs = [typeof(CallConvCdecl)])]
    private static void OnDrop(nint window, int count, byte** paths) => Tell(receiver =>
    {
        string[] dropped = new string[count];
        for (int i = 0; i < count; i++)
        {
            dropped[i] = Marshal.PtrToStringUTF8((nint)paths[i]) ?? string.Empty;
        }

        receiver.FilesDropped(dropped);
    });

    [UnmanagedCallersOnly(CallConvs = [typeof(CallConvCdecl)])]
    private static void OnSize(nint window, int width, int height) => Tell(receiver => receiver.PictureLost());

    [UnmanagedCallersOnly(CallConvs = [typeof(CallConvCdecl)])]
    private static void OnRefresh(nint window) => Tell(receiver => receiver.PictureLost());

    [UnmanagedCallersOnly(CallConvs = [typeof(CallConvCdecl)])]
    private static void OnFocus(nint window, int hasFocus) => Tell(receiver =>
    {
        if (hasFocus == 0)
        {
            receiver.FocusLost();
        }
    });
}
