namespace LiveStems.Engine.Devices;

/// <summary>What a <see cref="DeviceKeeper"/> has to tell.</summary>
public enum KeptDeviceState
{
    /// <summary>The device is open and not asked to play.</summary>
    Ready,

    /// <summary>It plays.</summary>
    Playing,

    /// <summary>It has gone; it is looked for.</summary>
    Lost,

    /// <summary>It is back and plays again, since the latest update.</summary>
    Returned,

    /// <summary>It is closed, and another is being opened in its place.</summary>
    Changing,
}
