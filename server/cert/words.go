package cert

// pageWords is what the page says in one language.
type pageWords struct {
	Title, Why, Download, Compare, Steps, Last, Open, Unsure string
	Ways                                                     []way
	other                                                    link
}

// way is how one kind of device comes to trust the certificate.
type way struct {
	Device string
	Steps  []string
}

// link is the link to the page in the other language.
type link struct{ Lang, Name string }

var words = map[string]*pageWords{
	"en": {
		Title:    "Trust this server",
		Why:      "Without this step the phone does not work where there is no network. You do it once per device. The certificate can speak for this server's own names and addresses only, for no other site.",
		Download: "Download the certificate",
		Compare:  "Compare before you trust. The SHA-256 fingerprint that your device shows must be the one on the server's terminal:",
		Unsure:   "This page came over a connection that anybody in the network could have changed. If the fingerprint differs from the one on the server's terminal, stop and ask the person who runs the server.",
		Steps:    "Step by step",
		Last:     "Then open the app:",
		Open:     "Open the app",
		other:    link{"es", "Español"},
		Ways: []way{
			{"On an Android phone", []string{
				"Set a screen lock if there is none: the phone asks for one.",
				"Press the download above.",
				"Open Settings and search for “CA certificate” (under Security, Encryption and credentials, Install a certificate).",
				"Choose CA certificate, read the warning, and choose the downloaded file jointwalk.crt.",
				"Compare the fingerprint under Trusted credentials, User.",
			}},
			{"On an iPhone or iPad", []string{
				"Open this page in the browser that came with the device, press the download and allow it.",
				"Open Settings. “Profile downloaded” stands at the top: press it, look at the details, compare, press Install.",
				"Go to Settings, General, About, Certificate Trust Settings.",
				"Switch on full trust for the certificate. Without this second switch it is installed but not trusted.",
			}},
			{"On a Windows PC", []string{
				"Download, open the file and compare under Details (a PC may show the shorter SHA-1 thumbprint; the terminal command certutil -hashfile jointwalk.crt SHA256 shows the long one).",
				"Press Install certificate, choose Current user.",
				"Choose “Place all certificates in the following store”, then Trusted Root Certification Authorities.",
				"Close the browser and open it again.",
			}},
			{"On a Mac", []string{
				"Download and open the file: the app that keeps certificates opens. Add it to the login keychain.",
				"Double-click the certificate, compare the fingerprint, open Trust and choose “Always trust”.",
				"Close the browser and open it again.",
			}},
			{"On another desk", []string{
				"Open the browser's settings and search for “certificates”, then Authorities.",
				"Import jointwalk.crt, compare, and tick that it may identify websites.",
			}},
		},
	},
	"es": {
		Title:    "Confiar en este servidor",
		Why:      "Sin este paso el teléfono no funciona donde no hay red. Se hace una vez por dispositivo. El certificado solo vale para los nombres y direcciones de este servidor, para ningún otro sitio.",
		Download: "Descargar el certificado",
		Compare:  "Compare antes de confiar. La huella SHA-256 que muestra su dispositivo debe ser la que aparece en el terminal del servidor:",
		Unsure:   "Esta página llegó por una conexión que cualquiera en la red pudo cambiar. Si la huella no es la del terminal del servidor, deténgase y pregunte a la persona que lleva el servidor.",
		Steps:    "Paso a paso",
		Last:     "Después abra la aplicación:",
		Open:     "Abrir la aplicación",
		other:    link{"en", "English"},
		Ways: []way{
			{"En un teléfono Android", []string{
				"Ponga un bloqueo de pantalla si no lo hay: el teléfono lo pide.",
				"Pulse la descarga de arriba.",
				"Abra Ajustes y busque «certificado de CA» (en Seguridad, Cifrado y credenciales, Instalar un certificado).",
				"Elija Certificado de CA, lea el aviso y elija el archivo descargado jointwalk.crt.",
				"Compare la huella en Credenciales de confianza, Usuario.",
			}},
			{"En un iPhone o iPad", []string{
				"Abra esta página en el navegador que trae el dispositivo, pulse la descarga y permítala.",
				"Abra Ajustes. Arriba aparece «Perfil descargado»: púlselo, vea los detalles, compare y pulse Instalar.",
				"Vaya a Ajustes, General, Información, Ajustes de confianza de certificados.",
				"Active la confianza total para el certificado. Sin este segundo interruptor está instalado, pero no es de confianza.",
			}},
			{"En un PC con Windows", []string{
				"Descargue, abra el archivo y compare en Detalles (puede mostrar la huella SHA-1, más corta; la orden certutil -hashfile jointwalk.crt SHA256 muestra la larga).",
				"Pulse Instalar certificado y elija Usuario actual.",
				"Elija «Colocar todos los certificados en el siguiente almacén» y después Entidades de certificación raíz de confianza.",
				"Cierre el navegador y ábralo de nuevo.",
			}},
			{"En un Mac", []string{
				"Descargue y abra el archivo: se abre la aplicación que guarda los certificados. Añádalo al llavero de inicio de sesión.",
				"Haga doble clic en el certificado, compare la huella, abra Confiar y elija «Confiar siempre».",
				"Cierre el navegador y ábralo de nuevo.",
			}},
			{"En otro equipo de escritorio", []string{
				"Abra los ajustes del navegador y busque «certificados», después Autoridades.",
				"Importe jointwalk.crt, compare y marque que puede identificar sitios web.",
			}},
		},
	},
}
